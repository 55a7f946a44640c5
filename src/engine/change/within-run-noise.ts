// What the runs themselves say of their noise: spread and memory of the residuals, and whether the slope over speed differs from
// run to run. Every run keeps its own free level, so nothing from between the runs comes in.
import type { NotEnough } from "../quantities/uncertain.ts";
import { prepareGroupProducts } from "./group-products.ts";
import { collapse, remlCriterion } from "./mixed-model-criterion.ts";
import { minimize } from "./nelder-mead.ts";

export interface WithinRunRows {
  readonly y: Float64Array;
  readonly ones: Float64Array;
  readonly group: Int32Array;
  readonly timeMin: Float64Array;
  /** Columns that vary inside runs, centred per run. */
  readonly within: readonly Float64Array[];
  /** The one of them that is speed; undefined where speed hardly varies. */
  readonly withinSpeed: Float64Array | undefined;
  readonly runCount: number;
}

export interface WithinRunNoise {
  /** Correlation of residuals a minute apart. */
  readonly rho: number;
  readonly sigma2: number;
  /** SD of the slope over ln speed from run to run; 0 where the runs do not show that it differs. */
  readonly slopeSd: number | NotEnough;
}

/** Used when the runs are too short to tell: CV within a run is below 2.5 % (preprint 202601.2214, abstract); correlation from memory. */
const FALLBACK = { residualSd: 0.012, rho: 0.6 } as const;
/** Runs with ups and downs of speed that are needed before their slopes can be said to differ (ours). */
const LEAST_SLOPE_RUNS = 4;
const LEAST_SLOPE_MINUTES = 6;
const LEAST_SPEED_SD = 0.015;
/** Fall of the criterion at which a variance that cannot be negative is believed: 5 % point of half a chi-square on one degree (Self & Liang 1987, from memory). */
const BELIEVED_FALL = 2.706;
/** A huge ratio makes the random level a free one; its rows then do not count as information. */
const FREE_LEVEL = 1e4;

/** REML over the rows inside runs. With fewer than four free rows, fixed values. */
export function withinRunNoise(rows: WithinRunRows): WithinRunNoise {
  const free = rows.y.length - rows.runCount - rows.within.length;
  const needed = slopeNeeds(rows);
  if (free < 4) return { rho: FALLBACK.rho, sigma2: FALLBACK.residualSd ** 2, slopeSd: needed ?? tooFew(0) };
  const levelOnly = fitNoise(rows, undefined);
  const plain = { rho: levelOnly.rho, sigma2: levelOnly.sigma2 };
  if (needed !== undefined) return { ...plain, slopeSd: needed };
  const sloped = fitNoise(rows, rows.withinSpeed);
  if (levelOnly.criterion - sloped.criterion < BELIEVED_FALL) return { ...plain, slopeSd: 0 };
  return { rho: sloped.rho, sigma2: sloped.sigma2, slopeSd: sloped.slopeRatio * Math.sqrt(sloped.sigma2) };
}

function fitNoise(
  rows: WithinRunRows,
  slope: Float64Array | undefined,
): { criterion: number; rho: number; sigma2: number; slopeRatio: number } {
  const prepare = prepareGroupProducts({
    y: rows.y,
    fixed: rows.within,
    random: slope === undefined ? [rows.ones] : [rows.ones, slope],
    group: rows.group,
    time: rows.timeMin,
  });
  const at = (rho: number, ratio: number): { criterion: number; sigma2: number } => {
    const model = collapse(prepare(rho), slope === undefined ? [FREE_LEVEL] : [FREE_LEVEL, 0, 0, ratio]);
    return remlCriterion({ ...model, rowCount: rows.y.length - rows.runCount });
  };
  const rhoOf = (x: number): number => 1 / (1 + Math.exp(-x));
  // A weak Beta(3, 2) keeps rho off its ends when the minutes are few.
  const best = minimize(
    ([x, ratio]) => {
      const rho = rhoOf(x!);
      return rho > 0.995 ? Infinity : at(rho, ratio ?? 0).criterion - 4 * Math.log(rho) - 2 * Math.log(1 - rho);
    },
    slope === undefined ? [0.4] : [0.4, 5],
    { tolerance: 1e-6, maxEvaluations: slope === undefined ? 120 : 240 },
  );
  const rho = rhoOf(best.at[0]!);
  const slopeRatio = Math.abs(best.at[1] ?? 0);
  return { criterion: best.value, rho, sigma2: Math.max(at(rho, slopeRatio).sigma2, 1e-8), slopeRatio };
}

/** Undefined when there are enough runs with ups and downs of speed. */
function slopeNeeds(rows: WithinRunRows): NotEnough | undefined {
  const { withinSpeed } = rows;
  if (withinSpeed === undefined) return tooFew(0);
  const counts = new Int32Array(rows.runCount);
  const squares = new Float64Array(rows.runCount);
  for (let i = 0; i < withinSpeed.length; i += 1) {
    const g = rows.group[i]!;
    counts[g] = counts[g]! + 1;
    squares[g] = squares[g]! + withinSpeed[i]! ** 2;
  }
  const usable = counts.filter(
    (count, g) => count >= LEAST_SLOPE_MINUTES && Math.sqrt(squares[g]! / count) >= LEAST_SPEED_SD,
  ).length;
  return usable >= LEAST_SLOPE_RUNS ? undefined : tooFew(usable);
}

function tooFew(have: number): NotEnough {
  return {
    kind: "not-enough",
    need: `${LEAST_SLOPE_RUNS} runs with ups and downs of speed`,
    have: `${have}`,
  };
}
