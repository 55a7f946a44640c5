// How far towards the target: the matched-speed change as a share of the change that was wanted.
import { SPEED_EXPONENT } from "../evidence/change.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { Comparison } from "./comparison.ts";

export interface WantedRate {
  /** Target, both feet, at `speedMps`; elsewhere it follows (v/v0)^exponent. */
  readonly stepRateSpm: number;
  readonly speedMps: number;
  /** Default 0.15. */
  readonly exponent?: number;
}

/** Below this wanted change (spm) a share of it means nothing. */
const SMALLEST_WANTED_SPM = 1;

/**
 * Share of the wanted change that was reached at the comparison's reference speed: 0 still at the old rate, 1 at the target.
 * Not enough when the target lies within 1 spm of the old rate. The rate before is taken as known; its error is small beside the change's.
 */
export function targetReached(comparison: Comparison, wanted: WantedRate): Uncertain | NotEnough {
  const change = comparison.matchedSpeedChangeSpm;
  const exponent = wanted.exponent ?? SPEED_EXPONENT.value.mean;
  const wantedSpm =
    wanted.stepRateSpm * (comparison.referenceSpeedMps / wanted.speedMps) ** exponent - comparison.beforeSpm;
  if (!(Math.abs(wantedSpm) >= SMALLEST_WANTED_SPM))
    return {
      kind: "not-enough",
      need: "a target at least 1 spm from the rate before",
      have: `${wantedSpm.toFixed(1)} spm`,
    };
  const ends = [change.interval95.low / wantedSpm, change.interval95.high / wantedSpm];
  return {
    estimate: change.estimate / wantedSpm,
    standardError: Math.abs(change.standardError / wantedSpm),
    interval95: { low: Math.min(...ends), high: Math.max(...ends) },
    sampleCount: change.sampleCount,
    method: "matched-speed change over the wanted change",
  };
}
