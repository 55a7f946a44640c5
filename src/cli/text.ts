// Small pieces of the plain text that commands print.
import type { Warning } from "../engine/quantities/problem.ts";

export function rounded(value: number, digits: number): string {
  // Never "-0.0".
  return (Number(value.toFixed(digits)) + 0).toFixed(digits);
}

export function signed(value: number, digits: number): string {
  const text = rounded(value, digits);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

export function warningLines(warnings: readonly Warning[]): string[] {
  return warnings.map(({ message }) => `note: ${message}`);
}

/** Columns padded to their widest cell; the first row is the heading. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => (row[column] ?? "").length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}
