// Cells of a table: numbers with either decimal mark, but one mark in one file.

import { LARGEST_NUMBER } from "./limits.ts";

type Cell =
  | { readonly kind: "missing" }
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "text" };

export interface NumberReader {
  /** A number, a missing value ("", "NaN", "NA", "-"), or text. */
  read(cell: string): Cell;
  /** The decimal mark that the file uses, once one was seen. */
  readonly mark: "." | "," | undefined;
}

const NUMBER = /^[+-]?(?:\d+(?:([.,])\d*)?|([.,])\d+)(?:[eE][+-]?\d{1,3})?$/;
const MISSING = new Set(["", "nan", "na", "n/a", "null", "-", "--"]);

/** A second decimal mark in the same file is text: "1,234" beside "5.6" cannot be told from thousands. */
export function createNumberReader(): NumberReader {
  let mark: "." | "," | undefined;
  return {
    read: (cell) => {
      const text = cell.trim();
      if (MISSING.has(text.toLowerCase())) return { kind: "missing" };
      const match = NUMBER.exec(text);
      const own = (match?.[1] ?? match?.[2]) as "." | "," | undefined;
      if (!match || (own !== undefined && mark !== undefined && own !== mark)) return { kind: "text" };
      const value = Number(text.replace(",", "."));
      if (!(Math.abs(value) < LARGEST_NUMBER)) return { kind: "text" };
      mark ??= own;
      return { kind: "number", value };
    },
    get mark() {
      return mark;
    },
  };
}

/** The delimiter of a header row: semicolon or tab where there is one (a comma may then be a decimal mark). */
export function findDelimiter(headerLine: string): ";" | "\t" | "," {
  const bare = headerLine.replaceAll(/"[^"]*"/g, "");
  if (bare.includes(";")) return ";";
  return bare.includes("\t") ? "\t" : ",";
}
