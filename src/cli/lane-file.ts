// Runners with their targets from a CSV file with a header.
import Papa from "papaparse";
import type { LaneRunner } from "../engine/group/lane-beats.ts";
import type { Problem } from "../engine/quantities/problem.ts";
import { InputError } from "./command.ts";

const MAX_RUNNERS = 10_000;

/** Other ways to write a column, after spaces and capitals are gone. */
const sameColumn: Readonly<Record<string, string>> = {
  id: "name",
  runner: "name",
  target: "target_spm",
  cap: "cap_spm",
  speed: "speed_mps",
};

/** "Target Spm", "targetSpm" and "target_spm" are one column. */
function columnName(header: string): string {
  const plain = header
    .trim()
    .replaceAll(/([a-z])([A-Z])/g, "$1_$2")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "_")
    .replaceAll(/^_+|_+$/g, "");
  return sameColumn[plain] ?? plain;
}

/** Throws InputError that names row and column. */
export function readLaneFile(text: string, file: string): LaneRunner[] {
  const parsed = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ""), {
    header: true,
    skipEmptyLines: "greedy",
    transformHeader: columnName,
  });
  const columns = parsed.meta.fields ?? [];
  const missing = ["name", "target_spm"].filter((column) => !columns.includes(column));
  if (missing.length > 0) {
    throw new InputError(
      missing.map((column) => ({
        code: "missing-column",
        where: { file, column },
        got: `columns ${columns.join(", ") || "none"}`,
        expected: "columns name and target_spm",
        remedy: "Add the column to the header line.",
      })),
    );
  }
  const problems: Problem[] = [];
  const runners = parsed.data.slice(0, MAX_RUNNERS).map((row, index): LaneRunner => {
    const cell = (column: string) => (row[column] ?? "").trim();
    const numberIn = (column: string, low: number, high: number): number | undefined => {
      const written = cell(column);
      if (written === "") return undefined;
      const value = Number(written.replace(",", "."));
      if (value >= low && value <= high) return value;
      problems.push({
        code: "cell-out-of-range",
        where: { file, row: index + 1, column },
        got: `"${written}"`,
        expected: `a number from ${low} to ${high}`,
        remedy:
          column === "speed_mps"
            ? "Give metres per second."
            : "Give steps per minute of both feet; double a count of one foot.",
      });
      return low;
    };
    const targetSpm = numberIn("target_spm", 120, 220);
    if (targetSpm === undefined) {
      problems.push({
        code: "empty-cell",
        where: { file, row: index + 1, column: "target_spm" },
        got: "an empty cell",
        expected: "a target",
        remedy: "Fill it in or remove the row.",
      });
    }
    const target = targetSpm ?? 120;
    const speedMps = numberIn("speed_mps", 0.5, 8);
    return {
      id: cell("name") || `row ${index + 1}`,
      targetSpm: target,
      capSpm: numberIn("cap_spm", 120, 242) ?? Number.POSITIVE_INFINITY,
      ...(speedMps === undefined ? {} : { speedMps }),
    };
  });
  if (problems.length > 0) throw new InputError(problems);
  if (runners.length === 0) {
    throw new InputError([
      {
        code: "no-rows",
        where: { file },
        got: "no runners",
        expected: "at least one row",
        remedy: "Add a row per runner.",
      },
    ]);
  }
  return runners;
}
