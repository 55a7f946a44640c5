// oxlint-disable-next-line typescript/triple-slash-reference -- an ambient module, seen by every tsconfig that sees this file
/// <reference path="./papaparse-light.d.ts" />
// A text table to rows of cells: delimiter found, quotes resolved, comments and empty lines skipped.
import papaparse from "papaparse/papaparse.js";
import { fail, succeed, type Result } from "../quantities/problem.ts";
import { findDelimiter } from "./csv-cells.ts";
import { DEFAULT_LIMITS, type ReadOptions } from "./limits.ts";

export interface CsvRows {
  readonly header: readonly string[];
  /** At least one. Cells are as in the file; rows may be shorter or longer than the header. */
  readonly rows: readonly (readonly string[])[];
}

/** The first row that is neither empty nor a comment. */
export function headerLineOf(text: string): string {
  return text.split(/\r\n|\r|\n/, 2000).find((line) => line.trim() !== "" && !line.startsWith("#")) ?? "";
}

/** Reads a table after RFC 4180, with semicolons and tabs too. Lines that begin with # are comments. */
export function readCsvRows(text: string, options: ReadOptions): Result<CsvRows> {
  const { fileName } = options;
  const maxRows = options.limits?.maxPoints ?? DEFAULT_LIMITS.maxPoints;
  const parsed = papaparse.parse(text, {
    delimiter: findDelimiter(headerLineOf(text)),
    skipEmptyLines: "greedy",
    comments: "#",
    preview: maxRows + 2,
  });
  const quotes = parsed.errors.find((error) => error.code === "MissingQuotes" || error.code === "InvalidQuotes");
  if (quotes)
    return fail({
      code: "csv-quotes",
      where: { file: fileName, ...(quotes.row === undefined ? {} : { row: Math.max(1, quotes.row) }) },
      got: "a quotation mark that is not closed",
      expected: "quotation marks in pairs",
      remedy: "Remove the single quotation mark.",
    });
  const [header, ...rows] = parsed.data;
  if (header === undefined || rows.length === 0)
    return fail({
      code: "csv-no-rows",
      where: { file: fileName },
      got: header === undefined ? "no rows" : "a header and no rows",
      expected: "a header row and at least two rows of data",
      remedy: "Export the whole run.",
    });
  if (rows.length > maxRows)
    return fail({
      code: "too-many-points",
      where: { file: fileName },
      got: `more than ${maxRows} rows`,
      expected: `at most ${maxRows} rows`,
      remedy: "Split the file, or export a single run.",
    });
  return succeed({ header, rows });
}
