// A runner's comfortable step rate: how sure, and at which speed it holds.
import type { Surface } from "../recordings/recording.ts";
import type { Uncertain } from "../quantities/uncertain.ts";

export interface Baseline {
  /** Both feet, at `speedMps`. */
  readonly stepRateSpm: Uncertain;
  /** Absent when only counted, with no lap time or recording beside it. */
  readonly speedMps?: number;
  readonly surface: Surface;
}
