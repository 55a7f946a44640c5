// The step rate over time, as the rate core gives it: what motion, sound and the live page share.
import { type MovementState } from "../recordings/window.ts";

export interface RatePoint {
  /** Centre of the analysis window, seconds from the first sample. */
  readonly timeS: number;
  /** Both feet; null when there is no answer. Given while running and while walking, and where it may be either. */
  readonly stepRateSpm: number | null;
  /** Probability that the rate is within 2 spm of the truth; 0 when there is no rate. */
  readonly quality: number;
  readonly state: MovementState;
  /** Present where `stepRateSpm` is null, and where the state is unknown. */
  readonly reason?: NoRateReason;
}

/** Why a point has no step rate; the last two: why it has a rate and no state. */
export type NoRateReason =
  | "standing"
  | "too-short"
  | "gap"
  | "no-rhythm"
  | "two-rates-fit"
  | "no-signal"
  | "running-or-walking"
  | "no-flight";

export const NO_RATE_SENTENCE: Readonly<Record<NoRateReason, string>> = {
  standing: "standing still",
  "too-short": "too few samples for a step rate",
  gap: "samples are missing here",
  "no-rhythm": "no regular rhythm of steps",
  "two-rates-fit": "two step rates fit equally well",
  "no-signal": "the sensor gives no signal",
  "running-or-walking": "this may be slow running or brisk walking",
  "no-flight": "steps without a flight: on the spot, or no running",
};

export interface RateTrack {
  readonly windowS: number;
  readonly hopS: number;
  readonly points: readonly RatePoint[];
}

export type FeatureContent = "acceleration" | "onsets";

/** Uniformly sampled features, n values in every channel. */
export interface FeatureChannels {
  readonly featureRateHz: number;
  /** Time of the first value. */
  readonly startS: number;
  /**
   * Channels by group. The power spectra of one group's channels are added (three axes: independent of orientation);
   * each group then weighs the step and stride hypotheses on its own, and the groups are combined.
   */
  readonly groups: readonly (readonly Float64Array[])[];
  /**
   * "acceleration": the first group is acceleration in m/s², and its strength helps to tell running, walking and standing.
   * "onsets": strength means nothing (sound); running and walking are told by rate alone, and silence is no answer.
   */
  readonly content: FeatureContent;
  /** 1 where the value was measured, 0 where a gap was bridged. Absent: all measured. */
  readonly measured?: Uint8Array;
}
