// The first row of a table of track points: what each column is, in which unit, and which feet a cadence counts.
import type { Feet } from "../quantities/feet.ts";
import { kmhToMps, METRES_PER_MILE, SECONDS_PER_MINUTE, speedFromPaceSPerKm } from "../quantities/units.ts";

export type ColumnKind =
  | "time"
  | "latitude"
  | "longitude"
  | "elevation"
  | "speed"
  | "pace"
  | "distance"
  | "cadence"
  | "heartRate"
  | "cue"
  | "target";

export interface Column {
  readonly kind: ColumnKind;
  readonly index: number;
  /** As the file has it. */
  readonly header: string;
  /** Undefined where the header names no unit that belongs to the kind. */
  readonly unit: string | undefined;
  /** For a cadence: what the header says it counts. */
  readonly feet?: Feet;
  /** A treadmill's own speed or distance. */
  readonly belt: boolean;
}

const NAMES: readonly (readonly [ColumnKind, RegExp])[] = [
  ["cue", /^(cue|beat)$/],
  ["target", /^target( (spm|step ?rate|cadence))?$/],
  ["cadence", /^(run(ning)? )?(cadence|cad|step ?rate|spm|steps|strides|steps per min(ute)?|strides per min(ute)?)\b/],
  ["heartRate", /^(hr|heart ?rate|pulse|bpm)\b/],
  ["pace", /^pace\b/],
  ["speed", /^((belt|treadmill|ground) )?(speed|velocity)\b/],
  ["distance", /^((belt|treadmill|cumulative|total) )?(distance|dist)\b/],
  ["elevation", /^(ele|elevation|altitude|alt|height)\b/],
  ["latitude", /^(lat|latitude)\b/],
  ["longitude", /^(lon|lng|long|longitude)\b/],
  ["time", /^((elapsed|utc|local) )?(time|timestamp|datetime|date time|seconds|t)\b/],
];

/** Units by kind: how they may be written, and the factor to SI. Pace is handled by paceToMps. */
const UNITS: Readonly<Partial<Record<ColumnKind, readonly (readonly [string, RegExp, number])[]>>> = {
  time: [
    ["ms", /\b(ms|millis|milliseconds)$/, 0.001],
    ["s", /(\b(s|sec|secs|seconds)|^seconds)$/, 1],
    ["min", /\b(min|minutes)$/, SECONDS_PER_MINUTE],
  ],
  elevation: [
    ["m", /\b(m|meters|metres)$/, 1],
    ["ft", /\b(ft|feet)$/, 0.3048],
  ],
  distance: [
    ["km", /\b(km|kilometers|kilometres)$/, 1000],
    ["mi", /\b(mi|mile|miles)$/, METRES_PER_MILE],
    ["m", /\b(m|meters|metres)$/, 1],
  ],
  speed: [
    ["km/h", /\b(km ?h|kmh|kph|km per h(our)?)$/, kmhToMps(1)],
    ["mile/h", /\b(mph|mi(les?)? (per )?h(our)?)$/, METRES_PER_MILE / 3600],
    ["m/s", /\b(m ?s|mps|m per s(econd)?|m s 1)$/, 1],
  ],
  pace: [
    ["min/km", /\bmin(utes)? (per )?km$/, 1],
    ["s/km", /\bs(ec|econds)? (per )?km$/, 1],
    ["min/mile", /\bmin(utes)? (per )?mi(les?)?$/, 1],
  ],
  heartRate: [["bpm", /\b(bpm|beats (per )?min(ute)?|hr|heart ?rate|pulse)$/, 1]],
};

/** Understands one header cell; undefined when it is nothing that is read. */
export function parseColumn(header: string, index: number): Column | undefined {
  const words = header
    .trim()
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
  const kind = NAMES.find(([, pattern]) => pattern.test(words))?.[0];
  if (kind === undefined) return undefined;
  const unit = UNITS[kind]?.find(([, pattern]) => pattern.test(words))?.[0];
  const feet = kind === "cadence" ? feetOf(words) : undefined;
  return {
    kind,
    index,
    header: header.trim(),
    unit,
    ...(feet === undefined ? {} : { feet }),
    belt: /\b(belt|treadmill)\b/.test(words),
  };
}

/** Factor from the column's unit to SI. */
export function unitFactor(column: Column): number {
  return UNITS[column.kind]?.find(([unit]) => unit === column.unit)?.[2] ?? 1;
}

/** Speed from a pace, given in the column's unit (decimal) or as a clock time in seconds per km or mile. */
export function paceToMps(column: Column, value: number, isClock: boolean): number {
  const seconds = isClock || column.unit === "s/km" ? value : value * SECONDS_PER_MINUTE;
  const perKm = column.unit === "min/mile" ? (seconds * 1000) / METRES_PER_MILE : seconds;
  return perKm > 0 ? speedFromPaceSPerKm(perKm) : NaN;
}

/** Strides and revolutions count one foot, steps count both; "cadence" and "spm" alone say nothing. */
function feetOf(words: string): Feet | undefined {
  if (/\b(both( feet)?|two feet)\b/.test(words)) return "both";
  if (/\b((per|one|single|left|right) (foot|leg)|strides?|rpm|rev(olution)?s)\b/.test(words)) return "one";
  return /\bsteps\b|\bstep ?rate\b/.test(words) ? "both" : undefined;
}
