// Motion tables: a time and three axes of acceleration, in any order and in the usual units.
import { fail, type Problem, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { findDelimiter } from "./csv-cells.ts";
import { headerLineOf, readCsvRows } from "./csv-rows.ts";
import { countMissing, MAX_MOTION_ROWS, readFastTable, type TableColumns } from "./fast-table.ts";
import { parseIsoTime } from "./iso-time.ts";
import { MAX_PROBLEMS, type ReadOptions } from "./limits.ts";
import { MPS2_PER, type MotionHeader, parseMotionHeader } from "./motion-header.ts";
import { settleTime } from "./motion-time.ts";
import { settleUnits } from "./motion-units.ts";
import { type MotionRecording } from "./recording.ts";

/**
 * Reads a table with a header row: a time (s, ms, µs, ns since any moment, or ISO 8601) and three axes of acceleration
 * (m/s², g or mg, with or without gravity). Any column order; other columns and comment lines (#) are ignored; comma,
 * semicolon or tab; decimal comma where the delimiter is not a comma. What the header does not say is found from the
 * numbers where only one reading is possible, and reported as a warning; otherwise it is a problem, never a guess.
 * A missing value becomes NaN. At most a day at 100 Hz (8,640,000 rows) unless `limits.maxPoints` says less.
 */
export function readMotionCsv(text: string, options: ReadOptions): Result<MotionRecording> {
  const { fileName } = options;
  const problem = (code: string, got: string, expected: string, remedy: string): Result<MotionRecording> =>
    fail({ code, where: { file: fileName }, got, expected, remedy });
  const headerLine = headerLineOf(text);
  if (headerLine === "")
    return problem("motion-no-rows", "no rows", "a header row and samples", "Export the recording again.");
  const delimiter = findDelimiter(headerLine);
  const cells = headerLine.split(delimiter).map(unquote);
  if (cells.every((cell) => cell === "" || Number.isFinite(Number(cell.replace(",", ".")))))
    return problem(
      "motion-no-header",
      `numbers in the first row: "${headerLine.slice(0, 40)}"`,
      "a first row that names the columns",
      'Put a first row such as "time_s,x_mps2,y_mps2,z_mps2" above the numbers.',
    );
  const parsed = parseMotionHeader(cells);
  if (parsed.kind === "no-time")
    return problem(
      "motion-no-time",
      `columns ${cells.join(", ").slice(0, 80)}`,
      "a column for the time of each sample",
      'Add a column "time_s" (seconds), "time_ms" or an ISO 8601 time.',
    );
  if (parsed.kind === "no-axes")
    return problem(
      "motion-no-axes",
      `columns ${cells.join(", ").slice(0, 80)}`,
      "three columns of acceleration, one for each axis",
      'Name them "x_mps2", "y_mps2", "z_mps2" (or "x_g", "y_g", "z_g").',
    );
  if (parsed.kind === "missing-axis")
    return problem(
      "motion-missing-axis",
      `only ${parsed.present.join(" and ").slice(0, 80)}`,
      "all three axes of one acceleration sensor",
      `Export the ${parsed.missing.join(" and ").slice(0, 80)} axis too: without it the phone's position in the pocket matters.`,
    );
  const table = readColumns(text, headerLine, delimiter, parsed.header, options);
  if (!table.ok) return table;
  return assemble(table.value, parsed.header, fileName);
}

function unquote(cell: string): string {
  const trimmed = cell.replace(/^\uFEFF/, "").trim();
  return trimmed.startsWith('"') && trimmed.endsWith('"') ? trimmed.slice(1, -1).replaceAll('""', '"') : trimmed;
}

function readColumns(
  text: string,
  headerLine: string,
  delimiter: string,
  header: MotionHeader,
  options: ReadOptions,
): Result<TableColumns> {
  const { fileName } = options;
  const maxRows = Math.min(options.limits?.maxPoints ?? MAX_MOTION_ROWS, MAX_MOTION_ROWS);
  const start = text.indexOf(headerLine) + headerLine.length;
  if (!text.includes('"', start)) return readTable(text, start, delimiter, header, options, maxRows);
  // Quoted cells are rare in motion tables: let the CSV library resolve them, then go on as usual.
  const rows = readCsvRows(text, { fileName, limits: { ...options.limits, maxPoints: maxRows } });
  if (!rows.ok) return rows;
  const body = rows.value.rows
    .map((row) => row.map((cell) => cell.replaceAll(/\s+/g, " ")).join(UNIT_SEPARATOR))
    .join("\n");
  return readTable(body, 0, UNIT_SEPARATOR, header, options, maxRows);
}

/** ASCII's own mark between fields: in no number and no time. */
const UNIT_SEPARATOR = "\u001f";

function readTable(
  body: string,
  from: number,
  delimiter: string,
  header: MotionHeader,
  options: ReadOptions,
  maxRows: number,
): Result<TableColumns> {
  const { fileName } = options;
  const names = [header.timeName, ...header.axisNames];
  const table = readFastTable(body, from, {
    delimiter,
    decimalComma: delimiter !== "," && /\d,\d/.test(body.slice(from, from + 2000)),
    columns: [header.timeIndex, ...header.axisIndices],
    maxRows,
    maxFaults: MAX_PROBLEMS,
    parseText: (cell, column) => (column === 0 ? isoSeconds(cell) : undefined),
    expired: options.limits?.expired,
  });
  if (table.stopped === "too-many-rows")
    return fail({
      code: "too-many-points",
      where: { file: fileName },
      got: `more than ${maxRows} rows`,
      expected: `at most ${maxRows} rows`,
      remedy: "Split the file, or export a single run.",
    });
  if (table.stopped === "expired")
    return fail({
      code: "reading-took-too-long",
      where: { file: fileName },
      got: `${table.rowCount} rows in the time allowed`,
      expected: "a file that can be read in time",
      remedy: "Split the file, or export a single run.",
    });
  if (table.faults.length > 0)
    return fail(
      ...table.faults.map(
        (fault): Problem => ({
          code: "motion-bad-number",
          where: { file: fileName, row: fault.row, column: names[fault.column]! },
          got: `"${fault.text}"`,
          expected: fault.column === 0 ? "a number or an ISO 8601 time" : "a number",
          remedy: "Correct or remove the row; an empty cell is allowed.",
        }),
      ),
    );
  return succeed(table);
}

/** ISO times as seconds since 1970. */
function isoSeconds(cell: string): number | undefined {
  const time = parseIsoTime(cell);
  return time === undefined ? undefined : time.utcMs / 1000;
}

function assemble(table: TableColumns, header: MotionHeader, fileName: string): Result<MotionRecording> {
  const [rawTime, x, y, z] = table.values as [Float64Array, Float64Array, Float64Array, Float64Array];
  const time = settleTime(rawTime, header, fileName);
  if (!time.ok) return time;
  const { keep, timeS, startedAtMs } = time.value;
  const axes = [x, y, z].map((axis) => (keep === undefined ? axis : axis.filter((_, i) => keep[i] === 1)));
  const units = settleUnits(timeS, axes, header, fileName);
  if (!units.ok) return units;
  const factor = MPS2_PER[units.value.unit];
  const [accelXMps2, accelYMps2, accelZMps2] = axes.map((axis) =>
    factor === 1 ? axis : axis.map((value) => value * factor),
  ) as [Float64Array, Float64Array, Float64Array];
  const missing = axes.reduce((sum, axis) => sum + countMissing(axis), 0);
  const warnings: Warning[] = [...time.warnings, ...units.warnings];
  if (missing > 0)
    warnings.push({
      code: "motion-missing-values",
      message: `${missing} values are missing; their samples are left out.`,
    });
  return succeed(
    {
      kind: "motion",
      ...(startedAtMs === undefined ? {} : { startedAtMs }),
      surface: "unknown",
      timeS,
      accelXMps2,
      accelYMps2,
      accelZMps2,
      gravity: units.value.gravity,
      cueBlocks: [],
    },
    warnings,
  );
}
