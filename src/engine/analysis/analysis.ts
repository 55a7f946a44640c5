// What a recording tells, whatever it was: the shape that every reader of results works with.
import type { Warning } from "../quantities/problem.ts";
import type { FeetCounted, Recording, Surface } from "../recordings/recording.ts";
import type { RateWindow } from "../recordings/window.ts";

/** Over the running windows of one recording. */
export interface Summary {
  readonly mean: number;
  /** Of the mean, with the slow wandering of a run in it (see docs/method/counting.md). */
  readonly standardError: number;
  /** 5th and 95th percentile of the windows (definition R-7). */
  readonly p05: number;
  readonly p95: number;
}

export interface Analysis {
  readonly kind: Recording["kind"];
  /** ISO 8601 in UTC; null when the recording has no clock. */
  readonly startedAt: string | null;
  readonly surface: Surface;
  readonly durationS: number;
  /** Running and walking. */
  readonly movingS: number;
  readonly distanceM: number | null;
  /** Both feet; null without two windows of running that have it. */
  readonly stepRateSpm: Summary | null;
  readonly speedMps: Summary | null;
  readonly stepLengthM: Summary | null;
  /** What the recording itself counted, before conversion. */
  readonly feetCounted: FeetCounted;
  readonly windows: readonly RateWindow[];
  /** One time per contact, for motion and sound; null for a track, which has none. */
  readonly stepTimesS: Float64Array | null;
  readonly warnings: readonly Warning[];
}
