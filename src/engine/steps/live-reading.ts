// What the live step counter says when asked.
import { type MovementState } from "../recordings/window.ts";
import { type NoRateReason } from "./rate-track.ts";

export interface LiveReading {
  /** Both feet, over the last five seconds; null while there is no answer. */
  readonly stepRateSpm: number | null;
  readonly state: MovementState;
  /** Probability that the rate is within 2 spm of the truth. */
  readonly quality: number;
  /** Steps since the start, running and walking. Lags by up to half a window. */
  readonly stepCount: number;
  /** Time of the last step placed, on the pushed time base; null before the first. */
  readonly lastStepTimeS: number | null;
  /** Time of the last sample used for this reading; null before the first. */
  readonly updatedAtS: number | null;
  readonly reason?: NoRateReason;
}

export interface LiveSteps {
  /** One sample, m/s², in any fixed or slowly turning orientation. Samples that go back in time or are not finite are skipped. */
  push(timeS: number, accelXMps2: number, accelYMps2: number, accelZMps2: number): void;
  /** The current answer, renewed twice a second. */
  read(): LiveReading;
}
