// What the analysis of a motion or sound recording gives.
import { type Warning } from "../quantities/problem.ts";
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";
import { type RateWindow } from "../recordings/window.ts";
import { type RateTrack } from "./rate-track.ts";

export interface StepAnalysis {
  /** 10 s windows every 5 s; a shorter recording gives one window over all of it. */
  readonly windows: readonly RateWindow[];
  /** One time per foot contact while running or walking, ascending, seconds from the first sample. */
  readonly stepTimesS: Float64Array;
  readonly stepCount: number;
  /**
   * Difference between the two alternating step times over their mean, percent, while running.
   * The sign has no side: a sensor does not know left from right, so it is never negative.
   */
  readonly timingAsymmetry: Uncertain | NotEnough;
  /** The finer track behind the windows. */
  readonly track: RateTrack;
  readonly warnings: readonly Warning[];
}
