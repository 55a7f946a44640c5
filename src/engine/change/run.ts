// What a comparison needs to know of one run.
import type { Surface } from "../recordings/recording.ts";
import type { RateWindow } from "../recordings/window.ts";

export interface Run {
  readonly id: string;
  /** UTC milliseconds; absent when the recording has no clock. */
  readonly startedAtMs?: number;
  readonly surface: Surface;
  readonly windows: readonly RateWindow[];
  /** The runner's own effort rating after the run, 0–10, when given. */
  readonly effortRating?: number;
}
