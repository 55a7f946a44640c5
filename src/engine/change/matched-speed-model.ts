// The heart of the proof: how much a runner's response (step rate, heart rate) changed between two phases at the same speed.
//   ln response = a + delta·phase + beta·(run's mean ln speed − reference) + b·(speed inside the run) + gamma·uphill
//                 + run + slope of the run·(ln speed − reference) + residual
// run ~ N(0, tau²) is the day-to-day spread, residual an AR(1) over the minutes of a run. The slope inside runs is kept apart from beta
// because noise in measured speed flattens it (the within-between form). A slope of each run's own is added where the runs show one.
// beta, gamma and tau carry priors; tau is averaged over, so that the interval of delta knows how few runs there are.
// See docs/method/matched-speed.md.
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { choleskyInPlace, inverseFromCholesky, solveLowerInPlace, solveLowerTransposeInPlace } from "./dense.ts";
import { prepareGroupProducts } from "./group-products.ts";
import { collapse } from "./mixed-model-criterion.ts";
import type { NormalMixture } from "./normal-mixture.ts";
import type { NotEnough } from "../quantities/uncertain.ts";
import type { Normal } from "./speed-exponent.ts";
import { withinRunNoise } from "./within-run-noise.ts";

export interface ModelRun {
  readonly phase: 0 | 1;
  readonly timeS: readonly number[];
  readonly lnSpeed: readonly number[];
  readonly slope: readonly number[];
  /** Natural logarithm of what is compared. */
  readonly response: readonly number[];
}

export interface ModelPriors {
  readonly exponent: Normal;
  readonly uphill: Normal;
  readonly dayToDay: { readonly median: number; readonly logSd: number };
}

export interface MatchedSpeedFit {
  /** ln response after minus before, at the same speed. */
  readonly change: NormalMixture;
  /** ln response before, at the reference speed. */
  readonly baseline: NormalMixture;
  readonly exponent: NormalMixture;
  readonly dayToDaySd: { readonly values: readonly number[]; readonly weights: readonly number[] };
  /** Standard deviation and one-minute correlation of the residuals inside a run. */
  readonly residualSd: number;
  readonly rho: number;
  /** How much the slope over ln speed differs from run to run (SD); 0 where the runs do not show that it does. */
  readonly slopeSd: number | NotEnough;
  /** Mean over runs of the squared error of a run's own mean at the reference speed, without the day-to-day spread. */
  readonly withinRunVariance: number;
}

const MINUTE_S = SECONDS_PER_MINUTE;
const GRID_COUNT = 48;

/** Fits the model. Every run needs at least one minute; at least one run per phase. Cost: some hundred passes over the minutes. */
export function fitMatchedSpeed(
  runs: readonly ModelRun[],
  referenceLnSpeed: number,
  priors: ModelPriors,
): MatchedSpeedFit {
  const layout = layOut(runs, referenceLnSpeed);
  const { rho, sigma2, slopeSd } = withinRunNoise(layout);
  const slopes = typeof slopeSd === "number" && slopeSd > 0 ? slopeSd : 0;
  const products = prepareGroupProducts({
    y: layout.y,
    fixed: layout.fixed,
    random: slopes > 0 ? [layout.ones, layout.fromReference] : [layout.ones],
    group: layout.group,
    time: layout.timeMin,
  })(rho);
  const p = layout.fixed.length;
  const priorPrecision = new Float64Array(p);
  const priorMean = new Float64Array(p);
  priorPrecision[2] = priors.exponent.sd ** -2;
  priorMean[2] = priors.exponent.mean;
  priorPrecision[3] = priors.uphill.sd ** -2;
  priorMean[3] = priors.uphill.mean;
  const grid = Array.from(
    { length: GRID_COUNT },
    (_, k) => priors.dayToDay.median * Math.exp(priors.dayToDay.logSd * (-3 + (6 * k) / (GRID_COUNT - 1))),
  );
  const points = grid.map((tau) => {
    const [level, slope] = [tau / Math.sqrt(sigma2), slopes / Math.sqrt(sigma2)];
    const model = collapse(products, slopes > 0 ? [level, 0, 0, slope] : [level]);
    const precision = model.xx.map((x) => x / sigma2);
    const right = model.xy.map((x) => x / sigma2);
    let priorQuadratic = 0;
    for (let i = 0; i < p; i += 1) {
      precision[i * p + i] = precision[i * p + i]! + priorPrecision[i]!;
      right[i] = right[i]! + priorPrecision[i]! * priorMean[i]!;
      priorQuadratic += priorPrecision[i]! * priorMean[i]! ** 2;
    }
    const factor = precision;
    const logDet = choleskyInPlace(factor, p);
    const half = right.slice();
    solveLowerInPlace(factor, p, half);
    const explained = half.reduce((sum, x) => sum + x * x, 0);
    const mean = half;
    solveLowerTransposeInPlace(factor, p, mean);
    const z = Math.log(tau / priors.dayToDay.median) / priors.dayToDay.logSd;
    const logWeight = -0.5 * (model.logDetV + logDet + model.yy / sigma2 + priorQuadratic - explained + z * z);
    return { logWeight, mean, covariance: inverseFromCholesky(factor, p) };
  });
  const top = Math.max(...points.map((point) => point.logWeight));
  const raw = points.map((point) => Math.exp(point.logWeight - top));
  const sum = raw.reduce((a, b) => a + b, 0);
  const weights = raw.map((w) => w / sum);
  const mixture = (index: number): NormalMixture => ({
    means: points.map((point) => point.mean[index]!),
    sds: points.map((point) => Math.sqrt(point.covariance[index * p + index]!)),
    weights,
  });
  const errorsOfMeans = products.matrices.map(
    (matrix, g) => sigma2 / matrix[0]! + (slopes * layout.meanFromReference[g]!) ** 2,
  );
  return {
    change: mixture(1),
    baseline: mixture(0),
    exponent: mixture(2),
    dayToDaySd: { values: grid, weights },
    residualSd: Math.sqrt(sigma2),
    rho,
    slopeSd,
    withinRunVariance: errorsOfMeans.reduce((a, b) => a + b, 0) / errorsOfMeans.length,
  };
}

interface Layout {
  readonly y: Float64Array;
  readonly ones: Float64Array;
  readonly group: Int32Array;
  readonly timeMin: Float64Array;
  /** [1, phase, between-run speed, uphill, (within-run speed)] */
  readonly fixed: readonly Float64Array[];
  /** Columns that vary inside runs, centred per run. */
  readonly within: readonly Float64Array[];
  /** Speed inside the run, centred per run; empty where it hardly varies. */
  readonly withinSpeed: Float64Array | undefined;
  readonly runCount: number;
  /** ln speed minus that of the reference, per row, and its mean per run. */
  readonly fromReference: Float64Array;
  readonly meanFromReference: readonly number[];
}

function layOut(runs: readonly ModelRun[], referenceLnSpeed: number): Layout {
  const n = runs.reduce((sum, run) => sum + run.timeS.length, 0);
  const column = (): Float64Array => new Float64Array(n);
  const [y, ones, phase, between, withinSpeed, uphill, uphillCentred, timeMin] = Array.from({ length: 8 }, column) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const group = new Int32Array(n);
  const fromReference = column();
  const meanFromReference: number[] = [];
  let row = 0;
  runs.forEach((run, g) => {
    const count = run.timeS.length;
    if (count === 0) throw new RangeError("fitMatchedSpeed: a run without minutes");
    const meanSpeed = run.lnSpeed.reduce((a, b) => a + b, 0) / count;
    meanFromReference.push(meanSpeed - referenceLnSpeed);
    const up = run.slope.map((slope) => Math.max(0, slope));
    const meanUp = up.reduce((a, b) => a + b, 0) / count;
    for (let i = 0; i < count; i += 1) {
      y[row] = run.response[i]!;
      ones[row] = 1;
      phase[row] = run.phase;
      between[row] = meanSpeed - referenceLnSpeed;
      withinSpeed[row] = run.lnSpeed[i]! - meanSpeed;
      fromReference[row] = run.lnSpeed[i]! - referenceLnSpeed;
      uphill[row] = up[i]!;
      uphillCentred[row] = up[i]! - meanUp;
      timeMin[row] = run.timeS[i]! / MINUTE_S;
      group[row] = g;
      row += 1;
    }
  });
  const varies = (values: Float64Array, least: number): boolean => values.some((x) => Math.abs(x) > least);
  const speedVaries = varies(withinSpeed, 1e-3);
  const within = [...(speedVaries ? [withinSpeed] : []), ...(varies(uphillCentred, 1e-4) ? [uphillCentred] : [])];
  return {
    y,
    ones,
    group,
    timeMin,
    fixed: [ones, phase, between, uphill, ...(speedVaries ? [withinSpeed] : [])],
    within,
    withinSpeed: speedVaries ? withinSpeed : undefined,
    runCount: runs.length,
    fromReference,
    meanFromReference,
  };
}
