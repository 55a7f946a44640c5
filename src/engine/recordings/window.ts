// A window: the unit of everything that comes after a recording was read.

export type MovementState = "running" | "walking" | "standing" | "unknown";

export interface RateWindow {
  /** Seconds from the recording's start. */
  readonly startS: number;
  readonly endS: number;
  /** Both feet; null when there is no answer (never a guess). */
  readonly stepRateSpm: number | null;
  /** Mean speed over the window; null when unknown. */
  readonly speedMps: number | null;
  /** Rise over run; null when unknown. */
  readonly slope: number | null;
  readonly heartRateBpm: number | null;
  /** 0 (useless) to 1 (sure): probability that the step rate is within 2 spm of the truth. */
  readonly quality: number;
  readonly state: MovementState;
  /** Inside a marked cue block; null where nothing was marked. */
  readonly cue: "on" | "off" | null;
  /** Why a window has no step rate or is not used, in plain words. */
  readonly reason?: string;
}
