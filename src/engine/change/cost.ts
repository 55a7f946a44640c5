// What the change cost: heart rate at the same speed, and the runner's own effort rating; early on and later.
import { HEART_RATE_DAY_TO_DAY_SD, HEART_RATE_EXPONENT } from "../evidence/change.ts";
import { runningCostJPerKgM } from "../load/running-cost.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import { fitMatchedSpeed, type ModelRun } from "./matched-speed-model.ts";
import { mixtureMean, mixtureQuantile, mixtureSd } from "./normal-mixture.ts";
import type { Run } from "./run.ts";
import { steadyMinutes } from "./steady-minutes.ts";
import { t95 } from "./student-t.ts";

export interface CostOverWeeks<Value> {
  /** All runs after against all before. */
  readonly overall: Value | NotEnough;
  /** Runs of the first two weeks after the change, against before. */
  readonly early: Value | NotEnough;
  /** Runs later than two weeks, against before. */
  readonly later: Value | NotEnough;
}

const EARLY_MS = 14 * 24 * 3600 * 1000;
/** Heart rate follows the cost of running uphill (Minetti 2002) as it follows speed; kept wide. */
const HEART_RATE_UPHILL = {
  mean: (HEART_RATE_EXPONENT.value.mean * Math.log(runningCostJPerKgM(0.02) / runningCostJPerKgM(0))) / 0.02,
  sd: 2,
} as const;

/**
 * Change of heart rate at the same speed, beats per minute, by the same model as the step rate. Not enough where fewer than two
 * runs on a side have heart rate in their steady minutes. Surfaces must not be mixed: the caller has compared the runs before.
 */
export function heartRateCost(before: readonly Run[], after: readonly Run[]): CostOverWeeks<Uncertain> {
  const cost = (late: readonly Run[]): Uncertain | NotEnough => heartRateChange(before, late);
  return overWeeks(after, cost);
}

function heartRateChange(before: readonly Run[], after: readonly Run[]): Uncertain | NotEnough {
  const series = (runs: readonly Run[], phase: 0 | 1): ModelRun[] =>
    runs.flatMap((run) => {
      const minutes = steadyMinutes(run.windows).minutes.filter((minute) => minute.heartRateBpm !== null);
      if (minutes.length === 0) return [];
      return [
        {
          phase,
          timeS: minutes.map((minute) => minute.timeS),
          lnSpeed: minutes.map((minute) => minute.lnSpeed),
          slope: minutes.map((minute) => minute.slope),
          response: minutes.map((minute) => Math.log(minute.heartRateBpm ?? 1)),
        },
      ];
    });
  const [left, right] = [series(before, 0), series(after, 1)];
  if (left.length < 2 || right.length < 2)
    return {
      kind: "not-enough",
      need: "two runs with heart rate on each side",
      have: `${left.length} before, ${right.length} after`,
    };
  const all = [...left, ...right];
  const lnSpeeds = all.map((run) => run.lnSpeed.reduce((a, b) => a + b, 0) / run.lnSpeed.length);
  const reference = lnSpeeds.reduce((a, b) => a + b, 0) / lnSpeeds.length;
  const fit = fitMatchedSpeed(all, reference, {
    exponent: HEART_RATE_EXPONENT.value,
    uphill: HEART_RATE_UPHILL,
    dayToDay: HEART_RATE_DAY_TO_DAY_SD.value,
  });
  const baseline = Math.exp(mixtureMean(fit.baseline));
  const told = (delta: number): number => baseline * Math.expm1(delta);
  return {
    estimate: told(mixtureMean(fit.change)),
    standardError: baseline * mixtureSd(fit.change),
    interval95: { low: told(mixtureQuantile(fit.change, 0.025)), high: told(mixtureQuantile(fit.change, 0.975)) },
    sampleCount: all.length,
    method: "heart rate at the same speed, same model as the step rate",
  };
}

/** Change of the effort rating (0–10), after minus before, pooled t interval. Needs two ratings a side. */
export function effortCost(before: readonly Run[], after: readonly Run[]): CostOverWeeks<Uncertain> {
  return overWeeks(after, (late) => meanDifference(ratings(before), ratings(late)));
}

function ratings(runs: readonly Run[]): number[] {
  return runs.flatMap((run) => (run.effortRating === undefined ? [] : [run.effortRating]));
}

function meanDifference(before: readonly number[], after: readonly number[]): Uncertain | NotEnough {
  if (before.length < 2 || after.length < 2)
    return {
      kind: "not-enough",
      need: "two ratings on each side",
      have: `${before.length} before, ${after.length} after`,
    };
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const squares = (values: readonly number[]): number => values.reduce((sum, x) => sum + (x - mean(values)) ** 2, 0);
  const df = before.length + after.length - 2;
  // Ratings are whole numbers: two equal ones do not mean no spread. Half a point is the least.
  const variance = Math.max((squares(before) + squares(after)) / df, 0.25);
  const standardError = Math.sqrt(variance * (1 / before.length + 1 / after.length));
  const estimate = mean(after) - mean(before);
  const half = t95(df) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: before.length + after.length,
    method: "mean effort rating after minus before",
  };
}

function overWeeks(
  after: readonly Run[],
  cost: (late: readonly Run[]) => Uncertain | NotEnough,
): CostOverWeeks<Uncertain> {
  const startMs = Math.min(...after.map((run) => run.startedAtMs ?? Infinity));
  const isEarly = (run: Run): boolean => run.startedAtMs !== undefined && run.startedAtMs < startMs + EARLY_MS;
  const isLater = (run: Run): boolean => run.startedAtMs !== undefined && run.startedAtMs >= startMs + EARLY_MS;
  return { overall: cost(after), early: cost(after.filter(isEarly)), later: cost(after.filter(isLater)) };
}
