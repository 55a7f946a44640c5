// One unbroken stretch of positions to smooth positions and velocities: a Kalman filter forward, a smoother back.
import { accelerationNoise, fastestRunnerMps, outlierGate } from "../evidence/speed.ts";

export interface StretchInput {
  /** Non-decreasing. */
  readonly timeS: Float64Array;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  /** Standard deviation of one axis, per sample. */
  readonly noiseM: Float64Array;
}

export interface SmoothStretch {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly eastMps: Float64Array;
  readonly northMps: Float64Array;
  /** Posterior standard deviation of one axis of velocity. */
  readonly velocityErrorMps: Float64Array;
  /** 1 where the position was left out as impossible. */
  readonly outlier: Uint8Array;
  /** Index at which the positions left for good: continue there as a new stretch. */
  readonly breakIndex: number | undefined;
}

/** Nothing is known of the first velocity but that it is a runner's. */
const FIRST_VELOCITY_SD_MPS = 4;
/** So many impossible positions in a row mean that it was the filter that went astray. */
const MAX_OUTLIERS_IN_A_ROW = 4;

/**
 * Rauch–Tung–Striebel smoother of a constant-velocity model: acceleration is white noise of density q, the same in both
 * axes, so both share one covariance. Over a step of t seconds: F = [1 t; 0 1], Q = q [t³/3 t²/2; t²/2 t]. (Bar-Shalom,
 * Li & Kirubarajan 2001, Estimation with Applications to Tracking and Navigation, section 6.2.2; Rauch, Tung & Striebel
 * 1965, AIAA Journal 3:1445; both from memory.) A position is left out when its squared, normalised innovation over both
 * axes exceeds the gate (a sharp corner does that too) and it takes more than 8 m/s to get there from the last one that
 * was believed; four in a row end the stretch where they began. At least one sample; cost linear.
 */
export function smoothStretch(
  input: StretchInput,
  { q = accelerationNoise.value, gate = outlierGate.value }: { readonly q?: number; readonly gate?: number } = {},
): SmoothStretch {
  const { timeS, eastM, northM, noiseM } = input;
  const n = timeS.length;
  if (n === 0) throw new RangeError("smoothStretch: needs at least one sample, got 0");
  const column = (): Float64Array => new Float64Array(n);
  // Filtered means and covariance (a: position, b: cross, c: velocity), and the predictions they came from.
  const mean = { pe: column(), ve: column(), pn: column(), vn: column() };
  const predicted = { pe: column(), ve: column(), pn: column(), vn: column() };
  const cov = { a: column(), b: column(), c: column() };
  const covPredicted = { a: column(), b: column(), c: column() };
  const outlier = new Uint8Array(n);
  let rejectedInARow = 0;
  let believed = 0;
  let breakIndex: number | undefined;

  for (let i = 0; i < n; i += 1) {
    if (i === 0) {
      predicted.pe[0] = eastM[0]!;
      predicted.pn[0] = northM[0]!;
      covPredicted.a[0] = 1e6;
      covPredicted.c[0] = FIRST_VELOCITY_SD_MPS ** 2;
    } else {
      const t = timeS[i]! - timeS[i - 1]!;
      predicted.pe[i] = mean.pe[i - 1]! + t * mean.ve[i - 1]!;
      predicted.pn[i] = mean.pn[i - 1]! + t * mean.vn[i - 1]!;
      predicted.ve[i] = mean.ve[i - 1]!;
      predicted.vn[i] = mean.vn[i - 1]!;
      const [a, b, c] = [cov.a[i - 1]!, cov.b[i - 1]!, cov.c[i - 1]!];
      covPredicted.a[i] = a + 2 * t * b + t * t * c + (q * t ** 3) / 3;
      covPredicted.b[i] = b + t * c + (q * t * t) / 2;
      covPredicted.c[i] = c + q * t;
    }
    const innovationVariance = covPredicted.a[i]! + noiseM[i]! ** 2;
    const offEast = eastM[i]! - predicted.pe[i]!;
    const offNorth = northM[i]! - predicted.pn[i]!;
    const way = Math.hypot(eastM[i]! - eastM[believed]!, northM[i]! - northM[believed]!);
    const reach = 3 * noiseM[i]! + fastestRunnerMps.value * (timeS[i]! - timeS[believed]!);
    const isOutlier = (offEast ** 2 + offNorth ** 2) / innovationVariance > gate && way > reach;
    if (!isOutlier) believed = i;
    // A rejected position has no weight: the prediction stands.
    const gainP = isOutlier ? 0 : covPredicted.a[i]! / innovationVariance;
    const gainV = isOutlier ? 0 : covPredicted.b[i]! / innovationVariance;
    outlier[i] = isOutlier ? 1 : 0;
    rejectedInARow = isOutlier ? rejectedInARow + 1 : 0;
    mean.pe[i] = predicted.pe[i]! + gainP * offEast;
    mean.pn[i] = predicted.pn[i]! + gainP * offNorth;
    mean.ve[i] = predicted.ve[i]! + gainV * offEast;
    mean.vn[i] = predicted.vn[i]! + gainV * offNorth;
    cov.a[i] = (1 - gainP) * covPredicted.a[i]!;
    cov.b[i] = (1 - gainP) * covPredicted.b[i]!;
    cov.c[i] = covPredicted.c[i]! - gainV * covPredicted.b[i]!;
    if (rejectedInARow === MAX_OUTLIERS_IN_A_ROW) {
      breakIndex = i - MAX_OUTLIERS_IN_A_ROW + 1;
      break;
    }
  }

  const length = breakIndex ?? n;
  const smoothC = column();
  smoothC[length - 1] = cov.c[length - 1]!;
  let [sa, sb, sc] = [cov.a[length - 1]!, cov.b[length - 1]!, cov.c[length - 1]!];
  for (let i = length - 2; i >= 0; i -= 1) {
    const t = timeS[i + 1]! - timeS[i]!;
    const [a, b, c] = [cov.a[i]!, cov.b[i]!, cov.c[i]!];
    const [pa, pb, pc] = [covPredicted.a[i + 1]!, covPredicted.b[i + 1]!, covPredicted.c[i + 1]!];
    const determinant = pa * pc - pb * pb;
    // Gain G = P Fᵀ P⁻₁, with P Fᵀ = [a + t b, b; b + t c, c].
    const [f11, f12, f21, f22] = [a + t * b, b, b + t * c, c];
    const g11 = (f11 * pc - f12 * pb) / determinant;
    const g12 = (f12 * pa - f11 * pb) / determinant;
    const g21 = (f21 * pc - f22 * pb) / determinant;
    const g22 = (f22 * pa - f21 * pb) / determinant;
    for (const [p, v] of [
      ["pe", "ve"],
      ["pn", "vn"],
    ] as const) {
      const offP = mean[p][i + 1]! - predicted[p][i + 1]!;
      const offV = mean[v][i + 1]! - predicted[v][i + 1]!;
      mean[p][i] = mean[p][i]! + g11 * offP + g12 * offV;
      mean[v][i] = mean[v][i]! + g21 * offP + g22 * offV;
    }
    const [da, db, dc] = [sa - pa, sb - pb, sc - pc];
    sa = a + g11 * (g11 * da + g12 * db) + g12 * (g11 * db + g12 * dc);
    sb = b + g21 * (g11 * da + g12 * db) + g22 * (g11 * db + g12 * dc);
    sc = c + g21 * (g21 * da + g22 * db) + g22 * (g21 * db + g22 * dc);
    smoothC[i] = sc;
  }
  const part = (values: Float64Array): Float64Array => values.subarray(0, length);
  return {
    eastM: part(mean.pe),
    northM: part(mean.pn),
    eastMps: part(mean.ve),
    northMps: part(mean.vn),
    velocityErrorMps: part(smoothC).map((variance) => Math.sqrt(Math.max(0, variance))),
    outlier: outlier.subarray(0, length),
    breakIndex,
  };
}
