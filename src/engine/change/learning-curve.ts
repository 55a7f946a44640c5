// A runner's step rate over the weeks, every run brought to the same speed.
import { SPEED_EXPONENT } from "../evidence/change.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { Run } from "./run.ts";
import { runMean } from "./run-means.ts";
import { t95 } from "./student-t.ts";

export interface LearningPoint {
  readonly runId: string;
  /** Weeks since the first dated run; absent for a run without a clock. */
  readonly weeks?: number;
  readonly stepRateSpm: number;
}

export interface LearningCurve {
  readonly referenceSpeedMps: number;
  readonly points: readonly LearningPoint[];
  /** Straight trend over the dated runs. */
  readonly trendSpmPerWeek: Uncertain | NotEnough;
}

export interface LearningCurveOptions {
  /** Default: the mean speed of all runs. */
  readonly atSpeedMps?: number;
  readonly exponent?: number;
}

const MS_PER_WEEK = 7 * 24 * 3600 * 1000;

/** One point per run with steady minutes, in time order (undated runs last). The trend needs three dated runs on different days. */
export function learningCurve(runs: readonly Run[], options: LearningCurveOptions = {}): LearningCurve | NotEnough {
  const exponent = options.exponent ?? SPEED_EXPONENT.value.mean;
  const usable = runs.flatMap((run) => {
    const mean = runMean(run);
    return mean === undefined ? [] : [{ run, lnSpeed: mean.lnSpeed, lnRate: mean.lnStepRate }];
  });
  if (usable.length === 0) return { kind: "not-enough", need: "one run with steady minutes", have: "none" };
  const lnReference =
    options.atSpeedMps === undefined
      ? usable.reduce((sum, run) => sum + run.lnSpeed, 0) / usable.length
      : Math.log(options.atSpeedMps);
  const startMs = Math.min(...usable.map(({ run }) => run.startedAtMs ?? Infinity));
  const points = usable
    .toSorted((a, b) => (a.run.startedAtMs ?? Infinity) - (b.run.startedAtMs ?? Infinity))
    .map(
      ({ run, lnSpeed, lnRate }): LearningPoint => ({
        runId: run.id,
        ...(run.startedAtMs === undefined ? {} : { weeks: (run.startedAtMs - startMs) / MS_PER_WEEK }),
        stepRateSpm: Math.exp(lnRate - exponent * (lnSpeed - lnReference)),
      }),
    );
  const dated = points.flatMap((point) =>
    point.weeks === undefined ? [] : [{ x: point.weeks, y: point.stepRateSpm }],
  );
  return { referenceSpeedMps: Math.exp(lnReference), points, trendSpmPerWeek: straightTrend(dated) };
}

/** Least squares slope with its t interval (n − 2 degrees of freedom). */
export function straightTrend(points: readonly { readonly x: number; readonly y: number }[]): Uncertain | NotEnough {
  const n = points.length;
  const x0 = points.reduce((sum, p) => sum + p.x, 0) / Math.max(n, 1);
  const y0 = points.reduce((sum, p) => sum + p.y, 0) / Math.max(n, 1);
  const xx = points.reduce((sum, p) => sum + (p.x - x0) ** 2, 0);
  if (n < 3 || !(xx > 1e-9)) return { kind: "not-enough", need: "three dated runs on different days", have: `${n}` };
  const estimate = points.reduce((sum, p) => sum + (p.x - x0) * (p.y - y0), 0) / xx;
  const residual = points.reduce((sum, p) => sum + (p.y - y0 - estimate * (p.x - x0)) ** 2, 0);
  const standardError = Math.sqrt(residual / (n - 2) / xx);
  const half = t95(n - 2) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: n,
    method: "straight trend over dated runs at the same speed",
  };
}
