// A table of track points (comma, semicolon or tab; units in the header) to a TrackRecording.
import { fail, succeed, type Problem, type Result, type Warning } from "../quantities/problem.ts";
import { assembleTrack } from "./assemble-track.ts";
import { createNumberReader, type NumberReader } from "./csv-cells.ts";
import { paceToMps, parseColumn, unitFactor, type Column, type ColumnKind } from "./csv-header.ts";
import { readCsvRows } from "./csv-rows.ts";
import { parseClockS, parseIsoTime } from "./iso-time.ts";
import { DEFAULT_LIMITS, MAX_PROBLEMS, type ReadLimits, type ReadOptions } from "./limits.ts";
import type { Surface, TrackRecording } from "./recording.ts";
import type { TrackPoint } from "./track-point.ts";
import { counted } from "./wording.ts";

/**
 * Reads a table with a header row. Needed: a time, and at least one of positions, speed, pace, distance and cadence.
 * Speed, pace and distance must name their unit; a time or elevation without one is taken as seconds or metres, and
 * told. Times are ISO 8601, h:mm:ss, seconds from any start, or seconds or milliseconds since 1970. Empty lines and
 * lines that begin with # are skipped. A cell of text where a number belongs is a problem that names row and column.
 */
export function readCsvTrack(text: string, options: ReadOptions): Result<TrackRecording> {
  const { fileName } = options;
  const limits: ReadLimits = { ...DEFAULT_LIMITS, ...options.limits };
  const table = readCsvRows(text, options);
  if (!table.ok) return table;
  const { header, rows } = table.value;
  const layout = readLayout(header, fileName);
  if (!layout.ok) return layout;
  const read = readRows(rows, header.length, layout.value, { fileName, limits });
  if (!read.ok) return read;
  const { cadence, speed, distance } = layout.value;
  const track = assembleTrack(read.value.points, {
    kind: "csv-track",
    fileName,
    hasClock: read.value.hasClock,
    ...(speed?.belt || distance?.belt ? { surface: "treadmill" satisfies Surface } : {}),
    ...(cadence?.feet === undefined ? {} : { cadenceLabel: cadence.feet }),
  });
  if (!track.ok) return track;
  return succeed(track.value, [...layout.warnings, ...read.warnings, ...track.warnings]);
}

interface Layout {
  readonly time: Column;
  readonly latitude?: Column;
  readonly longitude?: Column;
  readonly elevation?: Column;
  readonly speed?: Column;
  readonly pace?: Column;
  readonly distance?: Column;
  readonly cadence?: Column;
  readonly heartRate?: Column;
  readonly cue?: Column;
  readonly target?: Column;
}

function readLayout(header: readonly string[], fileName: string): Result<Layout> {
  const columns = new Map<ColumnKind, Column>();
  const ignored: string[] = [];
  for (const [index, cell] of header.entries()) {
    const column = parseColumn(cell, index);
    if (column === undefined || columns.has(column.kind)) ignored.push(cell.trim());
    else columns.set(column.kind, column);
  }
  const problems: Problem[] = [];
  const missing = (column: string, expected: string): void => {
    const got = `the columns ${header.map((cell) => cell.trim()).join(", ")}`.slice(0, 200);
    const remedy = "Add the column, with its unit in the header.";
    problems.push({ code: "csv-column-missing", where: { file: fileName, column }, got, expected, remedy });
  };
  if (!columns.has("time")) missing("time", "a column with the time of each row, such as time_s");
  if (columns.has("latitude") !== columns.has("longitude"))
    missing(columns.has("latitude") ? "longitude" : "latitude", "latitude and longitude together");
  if (!(["latitude", "speed", "pace", "distance", "cadence"] as const).some((kind) => columns.has(kind)))
    missing("latitude", "positions, speed, pace, distance or cadence");
  for (const kind of ["speed", "pace", "distance"] as const) {
    const column = columns.get(kind);
    if (column === undefined || column.unit !== undefined) continue;
    problems.push({
      code: "csv-unit-missing",
      where: { file: fileName, column: column.header },
      got: "no unit in the header",
      expected: { speed: "m/s, km/h or mph", pace: "min/km, s/km or min/mile", distance: "m, km or miles" }[kind],
      remedy: `Write the unit in the header, such as ${{ speed: "speed_kmh", pace: "pace_min_per_km", distance: "distance_m" }[kind]}.`,
    });
  }
  const time = columns.get("time");
  if (time === undefined || problems.length > 0) return fail(...problems);
  const warnings: Warning[] = [];
  const left = ignored.filter((name) => name !== "");
  if (left.length > 0)
    warnings.push({ code: "csv-column-ignored", message: `Columns not read: ${left.slice(0, 10).join(", ")}.` });
  if (columns.has("elevation") && columns.get("elevation")?.unit === undefined)
    warnings.push({ code: "unit-assumed", message: "The elevation names no unit and was taken as metres." });
  return succeed({ ...Object.fromEntries(columns), time }, warnings);
}

interface Rows {
  readonly points: TrackPoint[];
  /** Do the times say when, or only how long after the start? */
  readonly hasClock: boolean;
}

function readRows(
  rows: readonly (readonly string[])[],
  width: number,
  layout: Layout,
  { fileName, limits }: { fileName: string; limits: ReadLimits },
): Result<Rows> {
  const problems: Problem[] = [];
  const points: TrackPoint[] = [];
  const numbers = createNumberReader();
  const times = createTimeReader(layout.time, numbers);
  for (const [index, cells] of rows.entries()) {
    const row = index + 1;
    if (index % 1024 === 0 && limits.expired?.() === true)
      problems.push(rowProblem("reading-took-too-long", row, "a slow file", "a single run", "Split the file."));
    if (problems.length >= MAX_PROBLEMS || problems.at(-1)?.code === "reading-took-too-long") break;
    if (cells.length !== width) {
      const code = cells.length > width ? "csv-row-too-long" : "csv-row-too-short";
      const remedy = "Check for a decimal comma in a comma-separated file, or a line that was cut.";
      problems.push(rowProblem(code, row, counted(cells.length, "cell"), counted(width, "cell"), remedy));
      continue;
    }
    points.push(readPoint(cells, row));
  }
  if (problems.length > 0) return fail(...problems.map((p) => ({ ...p, where: { file: fileName, ...p.where } })));
  const warnings = times.assumedSeconds()
    ? [{ code: "unit-assumed", message: "The time names no unit and was taken as seconds." }]
    : [];
  return succeed({ points, hasClock: times.hasClock() }, warnings);

  function readPoint(cells: readonly string[], row: number): TrackPoint {
    const value = (column: Column | undefined): number => {
      if (column === undefined) return NaN;
      const cell = numbers.read(cells[column.index] ?? "");
      if (cell.kind === "number") return cell.value * unitFactor(column);
      if (cell.kind === "text") tellText(column, cells[column.index] ?? "", row, "a number");
      return NaN;
    };
    const within = (column: Column | undefined, limit: number): number => {
      const degrees = value(column);
      if (column === undefined || !(Math.abs(degrees) > limit)) return degrees;
      const expected = `${column.kind} from -${limit} to ${limit} degrees`;
      problems.push({
        ...rowProblem(`${column.kind}-out-of-range`, row, String(degrees), expected, "Correct or remove this row."),
        where: { row, column: column.header },
      });
      return NaN;
    };
    const time = times.read(cells[layout.time.index] ?? "");
    if (time === undefined) tellText(layout.time, cells[layout.time.index] ?? "", row, "a time");
    const speedMps = value(layout.speed);
    const cue = cueOf(cells[layout.cue?.index ?? -1]);
    const targetSpm = value(layout.target);
    return {
      place: row,
      segment: 0,
      timeMs: time ?? NaN,
      latitudeDeg: within(layout.latitude, 90),
      longitudeDeg: within(layout.longitude, 180),
      elevationM: value(layout.elevation),
      speedMps: Number.isNaN(speedMps) ? paceOf(cells, row) : speedMps,
      distanceM: value(layout.distance),
      cadence: value(layout.cadence),
      heartRateBpm: value(layout.heartRate),
      ...(cue === undefined ? {} : { cue }),
      ...(Number.isNaN(targetSpm) ? {} : { targetSpm }),
    };
  }

  function paceOf(cells: readonly string[], row: number): number {
    if (layout.pace === undefined) return NaN;
    const text = cells[layout.pace.index] ?? "";
    const clockS = parseClockS(text);
    if (clockS !== undefined) return paceToMps(layout.pace, clockS, true);
    const cell = numbers.read(text);
    if (cell.kind === "number") return paceToMps(layout.pace, cell.value, false);
    if (cell.kind === "text") tellText(layout.pace, text, row, "a pace such as 5:30");
    return NaN;
  }

  function tellText(column: Column, text: string, row: number, expected: string): void {
    const got = `"${text.trim().slice(0, 40)}"`;
    const code = column.kind === "time" ? "csv-cell-not-a-time" : "csv-cell-not-a-number";
    const hint = numbers.mark === undefined ? "" : ` This file's decimal mark is "${numbers.mark}".`;
    const remedy = `Correct the cell or leave it empty.${hint}`;
    problems.push({ ...rowProblem(code, row, got, expected, remedy), where: { row, column: column.header } });
  }
}

function rowProblem(code: string, row: number, got: string, expected: string, remedy: string): Problem {
  return { code, where: { row }, got, expected, remedy };
}

function cueOf(cell: string | undefined): "on" | "off" | undefined {
  const text = cell?.trim().toLowerCase() ?? "";
  if (["on", "1", "true", "yes"].includes(text)) return "on";
  return ["off", "0", "false", "no"].includes(text) ? "off" : undefined;
}

/** Seconds since 1970 begin here; smaller numbers are seconds from a start. */
const EPOCH_SECONDS = 1e8;
const EPOCH_MILLISECONDS = 1e11;

/** Times in milliseconds: undefined for text, NaN for an empty cell. */
function createTimeReader(column: Column, numbers: NumberReader) {
  let clockCount = 0;
  let assumed = false;
  return {
    read(text: string): number | undefined {
      const iso = parseIsoTime(text);
      if (iso !== undefined) {
        clockCount += 1;
        return iso.utcMs;
      }
      const clockS = parseClockS(text);
      if (clockS !== undefined) return clockS * 1000;
      const cell = numbers.read(text);
      if (cell.kind === "missing") return NaN;
      if (cell.kind === "text") return undefined;
      if (column.unit === undefined && cell.value >= EPOCH_MILLISECONDS) {
        clockCount += 1;
        return cell.value;
      }
      const seconds = cell.value * unitFactor(column);
      if (seconds >= EPOCH_SECONDS) clockCount += 1;
      else assumed ||= column.unit === undefined;
      return seconds * 1000;
    },
    hasClock: (): boolean => clockCount > 0,
    assumedSeconds: (): boolean => assumed,
  };
}
