// From everything that was measured of one runner to a baseline, or to what is still missing (rules M1, M3, M4).
import { baselineMaxStandardErrorSpm, steadySpeedShare } from "../evidence/measuring.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { Surface } from "../recordings/recording.ts";
import type { Baseline } from "./baseline.ts";
import type { MeasuredRate } from "./count.ts";
import { ownVariationSpm } from "./own-variation.ts";
import { poolRates } from "./pool.ts";
import type { SteadyRate } from "./steady-rate.ts";

export type BaselineMeasure =
  /** A count or a stopwatch: the error of measuring, `durationS` of running in all (repeats added). */
  | {
      readonly kind: "counted";
      readonly measured: MeasuredRate;
      readonly durationS: number;
      readonly surface: Surface;
      readonly speedMps?: number;
    }
  | { readonly kind: "recorded"; readonly measured: SteadyRate; readonly surface: Surface };

/**
 * A baseline with standard error of at most 2 spm, or the limit given (rule M1), or what is missing and how to get it. The error holds the
 * counting and the runner's slow wandering within a run, not the day. Refused: nothing measured, a label of
 * the feet in question (M3), counts that contradict each other (M2), treadmill with outdoors (M4), speeds more than
 * 10 % apart, an error above the limit.
 */
export function makeBaseline(
  measures: readonly BaselineMeasure[],
  options: { readonly maxStandardErrorSpm?: number } = {},
): Baseline | NotEnough {
  const limitSpm = options.maxStandardErrorSpm ?? baselineMaxStandardErrorSpm.value;
  if (measures.length === 0) return notEnough("one counted minute, repeated", "no measure yet");
  const counted = measures.flatMap((measure) => (measure.kind === "counted" ? [measure] : []));
  if (counted.some((measure) => measure.measured.feetQueried))
    return notEnough("an answer to which feet were counted", "a count whose label is in question");
  if (counted.some((measure) => measure.measured.needsAnother))
    return notEnough("one more count of the same length", "counts that differ by more than their errors allow");

  const surfaces = new Set(measures.map((measure) => measure.surface).filter((surface) => surface !== "unknown"));
  if (surfaces.size > 1)
    return notEnough("measures from the treadmill only, or from outdoors only", "both, which are never pooled");
  const speeds = measures.flatMap((measure) => speedOf(measure) ?? []);
  const slowest = Math.min(...speeds);
  const fastest = Math.max(...speeds);
  if (speeds.length > 1 && fastest - slowest > steadySpeedShare.value * slowest)
    return notEnough(
      "measures at one speed, within 10 %",
      `speeds from ${slowest.toFixed(2)} to ${fastest.toFixed(2)} m/s`,
    );

  const pooled = poolRates(measures.map(withOwnVariation));
  if (pooled.disputed)
    return notEnough("one more measure on the same surface at the same speed", "measures that contradict each other");
  const { standardError } = pooled.rate;
  if (standardError > limitSpm)
    return notEnough(
      `count one minute and repeat it, or time 50 contacts of one foot by stopwatch, until the standard error is at most ${limitSpm} spm`,
      `a standard error of ${standardError.toFixed(1)} spm`,
    );
  const used = measures.filter((_, index) => !pooled.setAside.includes(index));
  const usedSpeeds = used.flatMap((measure) => speedOf(measure) ?? []);
  const [surface] = surfaces;
  return {
    stepRateSpm: pooled.rate,
    ...(usedSpeeds.length > 0 ? { speedMps: usedSpeeds.reduce((sum, v) => sum + v, 0) / usedSpeeds.length } : {}),
    surface: surface ?? "unknown",
  };
}

function notEnough(need: string, have: string): NotEnough {
  return { kind: "not-enough", need, have };
}

function speedOf(measure: BaselineMeasure): number | undefined {
  return measure.kind === "counted" ? measure.speedMps : (measure.measured.speedMps ?? undefined);
}

/** The measuring error and the runner's own wandering, added in squares. Recorded rates hold it already. */
function withOwnVariation(measure: BaselineMeasure): Uncertain {
  const { rate } = measure.measured;
  if (measure.kind === "recorded") return rate;
  const standardError = Math.hypot(rate.standardError, ownVariationSpm(rate.estimate, measure.durationS));
  return {
    ...rate,
    standardError,
    interval95: { low: rate.estimate - 1.96 * standardError, high: rate.estimate + 1.96 * standardError },
  };
}
