// What every file reader returns. Times are seconds from the first sample; a missing value inside a typed array is NaN.

export type Surface = "outdoor" | "treadmill" | "unknown";
export type FeetCounted = "one" | "both" | "unknown";

/** A stretch that the runner or the coach marked: beat playing or not. */
export interface CueBlock {
  readonly startS: number;
  readonly endS: number;
  readonly cue: "on" | "off";
  readonly targetSpm?: number;
}

/** Positions over time (GPX, CSV track): n samples in every array. */
export interface TrackRecording {
  readonly kind: "gpx" | "csv-track";
  /** UTC milliseconds of timeS = 0; absent when the file has no clock. */
  readonly startedAtMs?: number;
  readonly surface: Surface;
  readonly timeS: Float64Array;
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
  readonly elevationM: Float64Array;
  /** As recorded by a speed sensor, belt or receiver, when present. */
  readonly recordedSpeedMps: Float64Array;
  /** Cumulative distance when the file carries one (lap or belt), else NaN. */
  readonly recordedDistanceM: Float64Array;
  /** Both feet; NaN where missing, 0 where the sensor says standing. */
  readonly stepRateSpm: Float64Array;
  readonly heartRateBpm: Float64Array;
  /** What the file's own cadence numbers counted before conversion. */
  readonly feetCounted: FeetCounted;
  /** Index of the first sample of each segment; the first is 0. */
  readonly segmentStartIndex: readonly number[];
  readonly cueBlocks: readonly CueBlock[];
}

/** Acceleration over time: n samples in every array, in the sensor's own axes. */
export interface MotionRecording {
  readonly kind: "motion";
  readonly startedAtMs?: number;
  readonly surface: Surface;
  readonly timeS: Float64Array;
  readonly accelXMps2: Float64Array;
  readonly accelYMps2: Float64Array;
  readonly accelZMps2: Float64Array;
  readonly gravity: "included" | "removed";
  /** Positions on their own time base, when the phone also recorded them. */
  readonly positions?: {
    readonly timeS: Float64Array;
    readonly latitudeDeg: Float64Array;
    readonly longitudeDeg: Float64Array;
    readonly elevationM: Float64Array;
    readonly accuracyM: Float64Array;
  };
  readonly cueBlocks: readonly CueBlock[];
  /** Moments that the runner or the coach marked. */
  readonly marks?: readonly { readonly timeS: number; readonly label: string }[];
}

export interface SoundRecording {
  readonly kind: "sound";
  readonly startedAtMs?: number;
  readonly sampleRateHz: number;
  /** One channel, −1 to 1; several channels are averaged by the reader. */
  readonly samples: Float32Array;
  readonly cueBlocks: readonly CueBlock[];
}

export type Recording = TrackRecording | MotionRecording | SoundRecording;
