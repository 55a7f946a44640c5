// Elevation over distance to slope, with as much smoothing as honesty needs.
import { slopeMaxStandardError, slopeSpanM } from "../evidence/speed.ts";

/** At the ends of a track only half of the span is there. */
const LEAST_SPAN_SHARE = 0.4;
/** Neighbouring elevations share their error: one independent value for so much ground. */
const INDEPENDENT_EVERY_M = 10;

/**
 * Rise over run at each sample: the least-squares line through the elevations within ±50 m along the path. NaN where
 * less than 40 m of that are covered, or where the line's own standard error (from its residuals, one independent
 * value for 10 m) exceeds 1 %. `distanceM` must not fall; NaN elevations are skipped. Linear cost.
 */
export function slopeOverDistance(distanceM: Float64Array, elevationM: Float64Array): Float64Array {
  const n = distanceM.length;
  const slope = new Float64Array(n).fill(NaN);
  const sums = prefixSums(distanceM, elevationM);
  let first = 0;
  let end = 0;
  for (let i = 0; i < n; i += 1) {
    const here = distanceM[i]!;
    while (first < i && distanceM[first]! < here - slopeSpanM.value / 2) first += 1;
    end = Math.max(end, i);
    while (end < n && distanceM[end]! <= here + slopeSpanM.value / 2) end += 1;
    const spanM = distanceM[end - 1]! - distanceM[first]!;
    const [count, sx, sy, sxx, sxy, syy] = sums.map((sum) => sum[end]! - sum[first]!) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    if (count < 3 || spanM < LEAST_SPAN_SHARE * slopeSpanM.value) continue;
    const xx = sxx - (sx * sx) / count;
    const xy = sxy - (sx * sy) / count;
    const yy = Math.max(0, syy - (sy * sy) / count);
    if (!(xx > 0)) continue;
    const estimate = xy / xx;
    const independent = Math.min(count, spanM / INDEPENDENT_EVERY_M);
    const residual = Math.max(0, yy - estimate * xy) / count;
    // Variance of a slope: σ² / (n · var x), with σ² = residual · n / (n − 2).
    const standardError = Math.sqrt((residual * count) / xx / Math.max(1, independent - 2));
    if (standardError <= slopeMaxStandardError.value) slope[i] = estimate;
  }
  return slope;
}

/** Running sums of 1, x, y, x², x·y, y² over samples with an elevation; entry i holds the first i samples. */
function prefixSums(x: Float64Array, y: Float64Array): readonly Float64Array[] {
  const sums = Array.from({ length: 6 }, () => new Float64Array(x.length + 1));
  const origin = y.find((value) => Number.isFinite(value)) ?? 0;
  for (let i = 0; i < x.length; i += 1) {
    const known = Number.isFinite(y[i]!) && Number.isFinite(x[i]!);
    const [xi, yi] = known ? [x[i]!, y[i]! - origin] : [0, 0];
    const terms = [known ? 1 : 0, xi, yi, xi * xi, xi * yi, yi * yi];
    for (const [k, sum] of sums.entries()) sum[i + 1] = sum[i]! + terms[k]!;
  }
  return sums;
}
