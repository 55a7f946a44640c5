// A roster as CSV: read with column matching and precise problems, written so that no spreadsheet runs anything in it.
import Papa from "papaparse";
import type { Runner, RunnerInput, RosterPreview } from "../../api/index.ts";
import type { Problem } from "../../engine/quantities/problem.ts";
import { guessColumn, readHistory, readNumber, type RosterColumn } from "./roster-columns.ts";

const MAX_ROWS = 500;
const REMOTE_WORDS = new Set(["yes", "y", "true", "1", "x", "remote"]);

export interface KnownRunner {
  readonly id: string;
  readonly name: string;
}

/** Reads without storing. `columns` maps a header to a field and goes before the guess. */
export function previewRoster(
  csv: string,
  known: readonly KnownRunner[],
  columns: Readonly<Record<string, RosterColumn["field"]>> = {},
): RosterPreview {
  const parsed = Papa.parse<string[]>(csv.replace(/^\uFEFF/, ""), { skipEmptyLines: "greedy" });
  const [header, ...data] = parsed.data;
  const problems: Problem[] = [];
  const say = (code: string, got: string, expected: string, remedy: string): void => {
    problems.push({ code, where: {}, got, expected, remedy });
  };
  if (header === undefined)
    say("roster-empty", "no rows", "a header row and one row per runner", "Export the list again.");
  const matched = (header ?? []).map((cell, index) => {
    const guess = guessColumn(cell, index);
    const field = columns[cell.trim()];
    return field === undefined ? guess : { ...guess, field };
  });
  if (header !== undefined && !matched.some((column) => column.field === "name"))
    say("roster-no-name", header.join(", ").slice(0, 200), 'a column "name"', "Say which column holds the name.");
  if (data.length > MAX_ROWS)
    say("roster-too-long", `${data.length} rows`, `at most ${MAX_ROWS} rows`, "Split the list.");
  for (const error of parsed.errors.filter((fault) => fault.type === "Quotes").slice(0, 5))
    problems.push({
      code: "roster-quotes",
      where: { row: (error.row ?? 0) + 1 },
      got: "a quotation mark that is not closed",
      expected: "quoted cells that end",
      remedy: "Export the list again as CSV.",
    });
  const takenAt = new Map<string, number>();
  const knownByName = new Map(known.map((runner) => [nameKey(runner.name), runner.id]));
  const rows = problems.length > 0 ? [] : data.slice(0, MAX_ROWS).map((cells, index) => readRow(cells, index + 1));
  return {
    columns: matched.map((column) => ({
      header: column.header,
      field: column.field,
      unit: column.unit,
      sample: (data[0]?.[column.index] ?? "").slice(0, 80),
    })),
    rows,
    problems,
    warnings: [],
    importable: rows.filter((row) => row.runner !== null && row.duplicateOf === null).length,
  };

  function readRow(cells: readonly string[], row: number): RosterPreview["rows"][number] {
    const rowProblems: Problem[] = [];
    const input: Record<string, unknown> = {};
    for (const column of matched) {
      const text = (cells[column.index] ?? "").trim();
      if (column.field === "ignore" || text === "") continue;
      const outcome = readCell(column, text);
      if (outcome.ok) input[column.field] = outcome.value;
      else
        rowProblems.push({
          code: outcome.code,
          where: { row, column: column.header },
          got: text.slice(0, 80),
          expected: outcome.expected,
          remedy: "Correct the cell, or ignore the column.",
        });
    }
    const name = typeof input["name"] === "string" ? input["name"] : "";
    if (name === "" && rowProblems.length === 0)
      rowProblems.push({
        code: "roster-name-missing",
        where: { row },
        got: "an empty cell",
        expected: "a name",
        remedy: "Add the name.",
      });
    const key = nameKey(name);
    const earlier = takenAt.get(key);
    const existing = knownByName.get(key);
    if (name !== "" && earlier === undefined) takenAt.set(key, row);
    const isDuplicate = name !== "" && (earlier !== undefined || existing !== undefined);
    return {
      row,
      runner: rowProblems.length > 0 || name === "" ? null : (input as unknown as RunnerInput),
      duplicateOf: isDuplicate ? { runnerId: existing ?? null, row: earlier ?? null } : null,
      problems: rowProblems,
    };
  }
}

type CellOutcome =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly code: string; readonly expected: string };

function readCell(column: RosterColumn, text: string): CellOutcome {
  const { field } = column;
  switch (field) {
    case "name":
    case "initials":
    case "notes": {
      const limit = { name: 120, initials: 6, notes: 4000 }[field];
      const clean = text.replaceAll(/\s+/g, " ");
      if (clean.length <= limit && !/\p{Cc}/u.test(clean)) return { ok: true, value: clean };
      return { ok: false, code: "roster-text", expected: `text of at most ${limit} characters` };
    }
    case "remote":
      return { ok: true, value: REMOTE_WORDS.has(text.toLowerCase()) };
    case "history": {
      const history = readHistory(text);
      if (history !== undefined) return { ok: true, value: history };
      return { ok: false, code: "roster-history", expected: "bone, achilles, calf or none" };
    }
    case "heightM":
    case "legLengthM":
    case "massKg":
    case "goalSpm": {
      const { value, low, high, unit } = readNumber(column, text);
      if (value !== undefined && value >= low && value <= high) return { ok: true, value };
      return { ok: false, code: "roster-number", expected: `${low} to ${high} ${unit}` };
    }
    case "ignore":
      return { ok: true, value: undefined };
  }
}

export function nameKey(name: string): string {
  return name.normalize("NFKC").trim().replaceAll(/\s+/g, " ").toLowerCase();
}

export function rosterCsv(runners: readonly Runner[]): string {
  const header = [
    "name",
    "initials",
    "height (m)",
    "leg length (m)",
    "mass (kg)",
    "history",
    "goal (spm, both feet)",
    "remote",
    "notes",
  ];
  const rows = runners.map((runner) => [
    runner.name,
    runner.initials,
    runner.heightM ?? "",
    runner.legLengthM ?? "",
    runner.massKg ?? "",
    runner.history.join(" "),
    runner.goalSpm ?? "",
    runner.remote ? "yes" : "",
    runner.notes,
  ]);
  return writeCsv(header, rows);
}

/** CSV by RFC 4180. A cell that a spreadsheet would take for a formula gets an apostrophe in front (OWASP, CSV injection). */
export function writeCsv(header: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string {
  const cell = (value: string | number | null): string => {
    if (value === null) return "";
    if (typeof value === "number") return String(value);
    const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return [header, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}
