// The writing side of the phone recording: each function gives one line with its line break, to be stored as it comes.
import { type CueBlock, type Surface } from "./recording.ts";

export const PHONE_FORMAT = "phone-recording";
export const PHONE_VERSION = 1;

export interface PhoneHeader {
  /** UTC milliseconds; all times of the file count from here. */
  readonly startedAtMs: number;
  readonly surface: Surface;
  /** Whether the phone's numbers contain gravity. */
  readonly gravity: "included" | "removed";
}

/** Samples of equal length, times in milliseconds since the start; NaN for a missing value. */
export interface PhoneMotionBatch {
  readonly timeMs: ArrayLike<number>;
  readonly xMps2: ArrayLike<number>;
  readonly yMps2: ArrayLike<number>;
  readonly zMps2: ArrayLike<number>;
  /** Only the first so many; default all. */
  readonly count?: number;
}

export interface PhonePosition {
  readonly timeMs: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM: number | null;
  readonly accuracyM: number | null;
}

export function phoneHeaderLine(header: PhoneHeader): string {
  return line({ spondee: PHONE_FORMAT, version: PHONE_VERSION, ...header });
}

/** Times to 0.1 ms, acceleration to 0.001 m/s²: finer than any phone's sensor. About 25 bytes a sample. */
export function phoneMotionLine(batch: PhoneMotionBatch): string {
  const count = batch.count ?? batch.timeMs.length;
  const list = (values: ArrayLike<number>, scale: number): (number | null)[] =>
    Array.from({ length: count }, (_, i) => {
      const value = values[i]!;
      return Number.isFinite(value) ? Math.round(value * scale) / scale : null;
    });
  return line({
    kind: "motion",
    timeMs: list(batch.timeMs, 10),
    x: list(batch.xMps2, 1000),
    y: list(batch.yMps2, 1000),
    z: list(batch.zMps2, 1000),
  });
}

export function phonePositionLine(position: PhonePosition): string {
  return line({ kind: "position", ...position });
}

export function phoneMarkLine(timeMs: number, label: string): string {
  return line({ kind: "mark", timeMs, label });
}

/** A stretch with the beat on or off, once it is over. Times in seconds since the recording's start. */
export function phoneCueLine(block: CueBlock): string {
  const { startS, endS, cue, targetSpm } = block;
  return line({
    kind: "cue",
    startMs: startS * 1000,
    endMs: endS * 1000,
    cue,
    ...(targetSpm === undefined ? {} : { targetSpm }),
  });
}

export function phoneEndLine(timeMs: number): string {
  return line({ kind: "end", timeMs });
}

function line(value: object): string {
  return `${JSON.stringify(value)}\n`;
}
