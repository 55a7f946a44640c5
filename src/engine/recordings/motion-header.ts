// The header row of a motion table: which column is the time, which three are the acceleration, and in which units.
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";

export type TimeUnit = "s" | "ms" | "us" | "ns";
export type AccelerationUnit = "mps2" | "g" | "mg";

export interface MotionHeader {
  readonly timeIndex: number;
  readonly timeName: string;
  /** Undefined: the header does not say. */
  readonly timeUnit: TimeUnit | undefined;
  /** x, y, z. */
  readonly axisIndices: readonly [number, number, number];
  readonly axisNames: readonly [string, string, string];
  readonly unit: AccelerationUnit | undefined;
  /** Undefined: the header does not say. */
  readonly gravity: "included" | "removed" | undefined;
}

export type MotionHeaderResult =
  | { readonly kind: "found"; readonly header: MotionHeader }
  | { readonly kind: "no-time" }
  | { readonly kind: "missing-axis"; readonly present: readonly string[]; readonly missing: readonly string[] }
  | { readonly kind: "no-axes" };

export const SECONDS_PER: Readonly<Record<TimeUnit, number>> = { s: 1, ms: 1e-3, us: 1e-6, ns: 1e-9 };
export const MPS2_PER: Readonly<Record<AccelerationUnit, number>> = {
  mps2: 1,
  g: STANDARD_GRAVITY_MPS2,
  mg: STANDARD_GRAVITY_MPS2 / 1000,
};

/** Sensors whose axes are not acceleration. */
const OTHER_SENSORS =
  /\b(gyro\w*|rot\w*|angular|mag\w*|gravity|grav|orient\w*|euler|quat\w*|attitude|heading|velocity|vel|position|pos)\b/;
const WITH_GRAVITY = /\b(incl\w*|with|raw|total)( of)? ?gravity\b|\braw\b|\btotal\b/;
const WITHOUT_GRAVITY = /\b(linear|lin|user|without gravity|no gravity|excl\w* gravity|gravity removed|dynamic)\b/;

interface AxisColumn {
  readonly index: number;
  readonly name: string;
  readonly axis: "x" | "y" | "z";
  /** The words without the axis and the unit: equal for the three of one sensor. */
  readonly sensor: string;
  readonly unit: AccelerationUnit | undefined;
}

/** Finds the columns in any order; columns of other sensors and unknown ones are left alone. */
export function parseMotionHeader(cells: readonly string[]): MotionHeaderResult {
  const axes = cells.map(parseAxis).filter((column) => column !== undefined);
  const sensors = [...new Set(axes.map((column) => column.sensor))].toSorted((a, b) => rank(a) - rank(b));
  const complete = sensors.find((sensor) => pick(axes, sensor) !== undefined);
  if (complete === undefined) {
    const sensor = sensors[0];
    if (sensor === undefined) return { kind: "no-axes" };
    const own = axes.filter((column) => column.sensor === sensor);
    const missing = ["x", "y", "z"].filter((axis) => own.every((column) => column.axis !== axis));
    return { kind: "missing-axis", present: own.map((column) => column.name), missing };
  }
  const [x, y, z] = pick(axes, complete)!;
  const time = cells
    .map((name, index) => ({ name: name.trim(), index, ...timeOf(name) }))
    .filter((column) => column.isTime)
    .toSorted((a, b) => Number(b.unit !== undefined) - Number(a.unit !== undefined))[0];
  if (time === undefined) return { kind: "no-time" };
  const gravity = WITHOUT_GRAVITY.test(complete) ? "removed" : WITH_GRAVITY.test(complete) ? "included" : undefined;
  return {
    kind: "found",
    header: {
      timeIndex: time.index,
      timeName: time.name,
      timeUnit: time.unit,
      axisIndices: [x.index, y.index, z.index],
      axisNames: [x.name, y.name, z.name],
      unit: x.unit,
      gravity,
    },
  };
}

function pick(axes: readonly AxisColumn[], sensor: string): readonly [AxisColumn, AxisColumn, AxisColumn] | undefined {
  const of = (axis: string): AxisColumn | undefined =>
    axes.find((column) => column.sensor === sensor && column.axis === axis);
  const [x, y, z] = [of("x"), of("y"), of("z")];
  return x && y && z ? [x, y, z] : undefined;
}

/** Acceleration with gravity before without, named before unnamed. */
function rank(sensor: string): number {
  const named = /\ba(cc\w*)?\b/.test(sensor) ? 0 : 2;
  return named + (WITHOUT_GRAVITY.test(sensor) ? 1 : 0);
}

/** "accelX" and "acc_x" and "Acceleration x (m/s²)" to words. */
function toWords(name: string): string {
  return name
    .replaceAll(/([a-z])([XYZ])(?![a-z])/g, "$1 $2")
    .replaceAll("²", "2")
    .toLowerCase()
    .replaceAll(/[^a-zµμ0-9]+/g, " ")
    .trim();
}

function parseAxis(name: string, index: number): AxisColumn | undefined {
  let words = toWords(name);
  let unit: AccelerationUnit | undefined;
  for (const [key, pattern] of ACCELERATION_UNITS)
    if (unit === undefined && pattern.test(words)) {
      unit = key;
      words = words.replace(pattern, "").trim();
    }
  const match = /^(?:(.*) )?(a|acc|accel)?([xyz])(?: (.*))?$/.exec(words);
  const axis = match?.[3] as "x" | "y" | "z" | undefined;
  if (!match || axis === undefined) return undefined;
  const sensor = [match[1], match[2], match[4]]
    .filter((part) => part !== undefined)
    .join(" ")
    .trim();
  if (OTHER_SENSORS.test(sensor) && !WITHOUT_GRAVITY.test(sensor) && !WITH_GRAVITY.test(sensor)) return undefined;
  return { index, name: name.trim(), axis, sensor, unit };
}

const ACCELERATION_UNITS: readonly (readonly [AccelerationUnit, RegExp])[] = [
  ["mps2", /\b(m s 2|m s s|m s2|ms2|mps2|m per s2|m ss|meters? per second squared|metres? per second squared)\b/],
  ["mg", /\b(mg|milli ?g)\b/],
  ["g", /\b(g|gs|gn|g0)$/],
];

function timeOf(name: string): { readonly isTime: boolean; readonly unit: TimeUnit | undefined } {
  const words = toWords(name);
  const isTime = /\b(time\w*|timestamp|t|epoch|elapsed|seconds?|secs?|millis\w*|nanos\w*|datetime|date)\b/.test(words);
  if (!isTime) return { isTime, unit: undefined };
  if (/\b(ns|nano\w*)\b/.test(words)) return { isTime, unit: "ns" };
  if (/\b(us|µs|μs|micro\w*)\b/.test(words)) return { isTime, unit: "us" };
  if (/\b(ms|milli\w*)\b/.test(words)) return { isTime, unit: "ms" };
  if (/\b(s|sec|secs|seconds?)$/.test(words)) return { isTime, unit: "s" };
  return { isTime, unit: undefined };
}
