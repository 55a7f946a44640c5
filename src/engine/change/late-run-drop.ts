// Did the step rate fall towards the end of a run, with speed and slope accounted for?
import { SPEED_EXPONENT, UPHILL_EFFECT } from "../evidence/change.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { quantile } from "./block-bootstrap.ts";
import { steadyMinutes, type SteadyMinute } from "./steady-minutes.ts";
import { t95 } from "./student-t.ts";
import { prepareTheilSen } from "./theil-sen.ts";
import { trendErrors } from "./trend-bootstrap.ts";

export interface LateRunDropOptions {
  /** Exponent of step rate over speed. Default 0.15. */
  readonly exponent?: number;
  /** Default 1. */
  readonly seed?: number;
  /** Bootstrap repeats, default 250. */
  readonly repeats?: number;
}

const LEAST_MINUTES = 9;

/**
 * Robust trend of the speed- and slope-adjusted step rate, told as last third minus first third of the steady part, in spm:
 * negative when it fell. Theil–Sen slope over the minutes times two thirds of their span; interval by a post-blackened block
 * bootstrap of the residuals. Needs nine steady minutes. The form (last third minus first) is ours.
 */
export function lateRunDrop(windows: readonly RateWindow[], options: LateRunDropOptions = {}): Uncertain | NotEnough {
  return lateRunDropOfMinutes(steadyMinutes(windows).minutes, options);
}

export function lateRunDropOfMinutes(
  minutes: readonly SteadyMinute[],
  options: LateRunDropOptions = {},
): Uncertain | NotEnough {
  if (minutes.length < LEAST_MINUTES)
    return { kind: "not-enough", need: `${LEAST_MINUTES} steady minutes`, have: `${minutes.length}` };
  const exponent = options.exponent ?? SPEED_EXPONENT.value.mean;
  const timeS = minutes.map((minute) => minute.timeS);
  const meanLnSpeed = minutes.reduce((sum, minute) => sum + minute.lnSpeed, 0) / minutes.length;
  const adjusted = minutes.map(
    (minute) =>
      minute.lnStepRate -
      exponent * (minute.lnSpeed - meanLnSpeed) -
      UPHILL_EFFECT.value.mean * Math.max(0, minute.slope),
  );
  const spanS = timeS.at(-1)! - timeS[0]!;
  const level = Math.exp(adjusted.reduce((a, b) => a + b, 0) / adjusted.length);
  const inSpm = (slope: number): number => level * Math.expm1((slope * spanS * 2) / 3);
  const slopeOf = prepareTheilSen(timeS);
  const slope = slopeOf(adjusted);
  const errors = trendErrors(
    timeS.map((t) => t / SECONDS_PER_MINUTE),
    adjusted,
    slopeOf,
    { seed: options.seed ?? 1, repeats: options.repeats ?? 250 },
  );
  const standardError = Math.sqrt(errors.reduce((sum, x) => sum + x * x, 0) / errors.length);
  const half = quantile(errors.map(Math.abs), 0.95);
  return {
    estimate: inSpm(slope),
    standardError: (level * standardError * spanS * 2) / 3,
    interval95: { low: inSpm(slope - half), high: inSpm(slope + half) },
    sampleCount: minutes.length,
    method: "Theil–Sen trend of the speed-adjusted minutes, block bootstrap",
  };
}

/** The late-run drop of a side: mean over its runs. With one run, that run's own interval; with more, the spread between runs counts too. */
export function meanLateRunDrop(drops: readonly (Uncertain | NotEnough)[]): Uncertain | NotEnough {
  const known = drops.filter((drop): drop is Uncertain => !("kind" in drop));
  if (known.length === 0)
    return drops[0] !== undefined && "kind" in drops[0]
      ? drops[0]
      : { kind: "not-enough", need: "one run", have: "none" };
  const [first] = known;
  if (known.length === 1 && first !== undefined) return first;
  const n = known.length;
  const estimate = known.reduce((sum, drop) => sum + drop.estimate, 0) / n;
  const between = known.reduce((sum, drop) => sum + (drop.estimate - estimate) ** 2, 0) / (n - 1);
  const own = known.reduce((sum, drop) => sum + drop.standardError ** 2, 0) / n;
  const fromSpread = t95(n - 1) * Math.sqrt(between / n);
  // Two or three runs may agree by luck: never narrower than their own errors allow.
  const half = Math.max(fromSpread, t95(Infinity) * Math.sqrt(own / n));
  return {
    estimate,
    standardError: Math.sqrt(Math.max(between, own) / n),
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: n,
    method: "mean of the late-run drops of the runs",
  };
}
