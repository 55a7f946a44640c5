// Positions over time to speed, distance and what the receiver got wrong.
import { estimatePositionNoise } from "./position-noise.ts";
import { smoothStretch } from "./kalman-smoother.ts";
import { toPlane } from "./local-plane.ts";

export interface Positions {
  /** Non-decreasing. */
  readonly timeS: Float64Array;
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
  /** Standard deviation of one axis per sample, where the receiver told it; NaN elsewhere. */
  readonly noiseM?: Float64Array;
  /** First sample of each segment. */
  readonly segmentStartIndex: readonly number[];
}

export interface PositionSpeed {
  /** At every sample; NaN where there is no position or none near enough in time. */
  readonly speedMps: Float64Array;
  /** Smoothed way from the sample before; 0 at the first sample and across breaks between stretches. */
  readonly stepM: Float64Array;
  /** Straight way across a long gap, at the first sample after it, within a segment; 0 elsewhere. */
  readonly gapM: Float64Array;
  /** Number of the unbroken stretch that a sample belongs to; −1 for none. */
  readonly stretch: Int32Array;
  readonly outlierCount: number;
  /** Times that the positions jumped for good. */
  readonly jumpCount: number;
  /** Standard deviation of one axis that was used where the receiver told none. */
  readonly noiseM: number;
}

/** Without a position for this long, the speed in between is not known. */
const LONGEST_GAP_S = 30;

/**
 * Speed from positions by the smoother of kalman-smoother.ts on the plane of local-plane.ts, each unbroken stretch by
 * itself. Stretches end at segments, at gaps of more than 30 s (or five times the usual spacing, for sparse tracks), and
 * where positions jump for good. A stretch of a single position gives nothing.
 */
export function speedFromPositions(positions: Positions): PositionSpeed {
  const { timeS } = positions;
  const n = timeS.length;
  const plane = toPlane(positions.latitudeDeg, positions.longitudeDeg);
  const noiseM = estimatePositionNoise(timeS, plane);
  const speedMps = new Float64Array(n).fill(NaN);
  const stepM = new Float64Array(n);
  const gapM = new Float64Array(n);
  const stretch = new Int32Array(n).fill(-1);
  let [outlierCount, jumpCount, stretchCount] = [0, 0, 0];

  const smooth = (indices: readonly number[]): void => {
    let rest = indices;
    while (rest.length >= 2) {
      const pick = (values: Float64Array): Float64Array => Float64Array.from(rest, (index) => values[index]!);
      const told = positions.noiseM;
      const result = smoothStretch({
        timeS: pick(timeS),
        eastM: pick(plane.eastM),
        northM: pick(plane.northM),
        noiseM: Float64Array.from(rest, (index) => (told !== undefined && told[index]! > 0 ? told[index]! : noiseM)),
      });
      const used = result.breakIndex ?? rest.length;
      if (result.breakIndex !== undefined) jumpCount += 1;
      if (used >= 2) {
        for (let k = 0; k < used; k += 1) {
          const index = rest[k]!;
          speedMps[index] = Math.hypot(result.eastMps[k]!, result.northMps[k]!);
          stretch[index] = stretchCount;
          outlierCount += result.outlier[k]!;
          if (k > 0)
            stepM[index] = Math.hypot(
              result.eastM[k]! - result.eastM[k - 1]!,
              result.northM[k]! - result.northM[k - 1]!,
            );
        }
        stretchCount += 1;
      } else {
        outlierCount += used;
      }
      rest = rest.slice(used);
    }
  };
  const segmentOf = segmentNumbers(positions);
  let before: number | undefined;
  for (const indices of unbrokenStretches(positions, segmentOf)) {
    const first = indices[0]!;
    if (before !== undefined && segmentOf[before] === segmentOf[first])
      gapM[first] = Math.hypot(
        plane.eastM[first]! - plane.eastM[before]!,
        plane.northM[first]! - plane.northM[before]!,
      );
    smooth(indices);
    before = indices.at(-1);
  }
  return { speedMps, stepM, gapM, stretch, outlierCount, jumpCount, noiseM };
}

function segmentNumbers(positions: Positions): Int32Array {
  const starts = new Set(positions.segmentStartIndex);
  const segmentOf = new Int32Array(positions.timeS.length);
  for (let i = 1; i < segmentOf.length; i += 1) segmentOf[i] = segmentOf[i - 1]! + (starts.has(i) ? 1 : 0);
  return segmentOf;
}

/** Indices of located samples, cut at segments and long gaps. */
function unbrokenStretches(positions: Positions, segmentOf: Int32Array): number[][] {
  const located: number[] = [];
  for (let i = 0; i < positions.timeS.length; i += 1)
    if (Number.isFinite(positions.latitudeDeg[i]!) && Number.isFinite(positions.longitudeDeg[i]!)) located.push(i);
  const spacings = located
    .slice(1)
    .map((index, k) => positions.timeS[index]! - positions.timeS[located[k]!]!)
    .sort((a, b) => a - b);
  const usual = spacings.length === 0 ? 1 : spacings[Math.floor(spacings.length / 2)]!;
  const longestGapS = Math.max(LONGEST_GAP_S, 5 * usual);
  const stretches: number[][] = [];
  for (const [k, index] of located.entries()) {
    const before = located[k - 1];
    const unbroken =
      before !== undefined &&
      segmentOf[before] === segmentOf[index] &&
      positions.timeS[index]! - positions.timeS[before]! <= longestGapS;
    if (unbroken) stretches.at(-1)!.push(index);
    else stretches.push([index]);
  }
  return stretches;
}
