// Four columns of numbers out of a large plain table, without cutting it into strings.

import { LARGEST_NUMBER } from "./limits.ts";

export interface TableColumns {
  /** One array for each wanted column, `rowCount` values; a missing value is NaN. */
  readonly values: readonly Float64Array[];
  readonly rowCount: number;
  /** Cells that are neither a number nor missing, at most `maxFaults`: 1-based data row and index into the wanted columns. */
  readonly faults: readonly { readonly row: number; readonly column: number; readonly text: string }[];
  readonly stopped?: "too-many-rows" | "expired";
}

export interface FastTableOptions {
  readonly delimiter: string;
  readonly decimalComma: boolean;
  /** Columns to read, by index. */
  readonly columns: readonly number[];
  readonly maxRows: number;
  readonly maxFaults: number;
  /** Turns a cell that is no number into one (times as text); undefined if it is none. */
  readonly parseText?: (text: string, column: number) => number | undefined;
  readonly expired?: (() => boolean) | undefined;
}

const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);
const MISSING = new Set(["", "nan", "na", "n/a", "null", "-", "--"]);

/** Reads from the character `start` on. Rows that are empty or begin with # are skipped. Quotes are not understood. */
export function readFastTable(text: string, start: number, options: FastTableOptions): TableColumns {
  const { columns, maxRows } = options;
  const delimiter = options.delimiter.charCodeAt(0);
  const point = options.decimalComma ? 44 : 46;
  const wanted = new Int32Array(Math.max(...columns) + 1).fill(-1);
  columns.forEach((column, i) => (wanted[column] = i));
  let capacity = 4096;
  let values = columns.map(() => new Float64Array(capacity).fill(NaN));
  const faults: { row: number; column: number; text: string }[] = [];
  let rowCount = 0;
  let at = start;
  const end = text.length;
  const done = (stopped?: TableColumns["stopped"]): TableColumns => ({
    values: values.map((column) => column.slice(0, rowCount)),
    rowCount,
    faults,
    ...(stopped === undefined ? {} : { stopped }),
  });
  while (at < end) {
    const first = text.charCodeAt(at);
    if (first === 10 || first === 13) {
      at += 1;
      continue;
    }
    if (first === 35) {
      at = lineEnd(text, at, end);
      continue;
    }
    if (rowCount >= maxRows) return done("too-many-rows");
    if ((rowCount & 8191) === 8191 && options.expired?.() === true) return done("expired");
    if (rowCount === capacity) {
      capacity *= 2;
      values = values.map((column) => {
        const grown = new Float64Array(capacity).fill(NaN, rowCount);
        grown.set(column);
        return grown;
      });
    }
    for (let column = 0; column < wanted.length; column += 1) {
      const target = wanted[column]!;
      const cellStart = at;
      at = target < 0 ? -1 : readDecimal(text, cellStart, end, delimiter, point, values[target]!, rowCount);
      if (at < 0) {
        at = cellEnd(text, cellStart, end, delimiter);
        if (target >= 0) {
          const cell = text.slice(cellStart, at).trim();
          if (!MISSING.has(cell.toLowerCase())) {
            const value = options.parseText?.(cell, target) ?? slowNumber(cell, options.decimalComma);
            if (Number.isNaN(value) && faults.length < options.maxFaults)
              faults.push({ row: rowCount + 1, column: target, text: cell.slice(0, 40) });
            values[target]![rowCount] = value;
          }
        }
      }
      if (at >= end || text.charCodeAt(at) !== delimiter) break;
      at += 1;
    }
    rowCount += 1;
    at = lineEnd(text, at, end);
  }
  return done();
}

function lineEnd(text: string, from: number, end: number): number {
  let at = from;
  while (at < end) {
    const code = text.charCodeAt(at);
    if (code === 10 || code === 13) break;
    at += 1;
  }
  return at;
}

function cellEnd(text: string, from: number, end: number, delimiter: number): number {
  let at = from;
  while (at < end) {
    const code = text.charCodeAt(at);
    if (code === delimiter || code === 10 || code === 13) break;
    at += 1;
  }
  return at;
}

/**
 * A plain decimal that fills its cell, into out[row]; spaces around it are allowed. Returns where the cell ends, or −1 for
 * everything else, which then goes the slow way. Up to 15 digits are exact at once: digits as an integer below 2^53, over an
 * exact power of ten, are rounded once (Clinger 1990, fast path).
 */
function readDecimal(
  text: string,
  from: number,
  end: number,
  delimiter: number,
  point: number,
  out: Float64Array,
  row: number,
): number {
  let at = from;
  while (at < end && text.charCodeAt(at) === 32) at += 1;
  const sign = at < end ? text.charCodeAt(at) : 0;
  if (sign === 45 || sign === 43) at += 1;
  const first = at;
  let digits = 0;
  let count = 0; // without leading zeros
  let pointAt = -1;
  for (; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      digits = digits * 10 + code - 48;
      if (digits > 0) count += 1;
    } else if (code === point && pointAt < 0) pointAt = at;
    else break;
  }
  const last = at;
  if (last - first === (pointAt < 0 ? 0 : 1)) return -1; // no digit
  while (at < end && text.charCodeAt(at) === 32) at += 1;
  const stop = at < end ? text.charCodeAt(at) : 10;
  if (stop !== delimiter && stop !== 10 && stop !== 13) return -1;
  const decimals = pointAt < 0 ? 0 : last - pointAt - 1;
  const value =
    count <= 15 && decimals < POWERS.length
      ? digits / POWERS[decimals]!
      : Number(point === 44 ? text.slice(first, last).replace(",", ".") : text.slice(first, last));
  if (!(value < LARGEST_NUMBER)) return -1;
  out[row] = sign === 45 ? -value : value;
  return at;
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

/** NaN for what is no number. */
function slowNumber(cell: string, decimalComma: boolean): number {
  const text = decimalComma ? cell.replace(",", ".") : cell;
  const value = NUMBER.test(text) ? Number(text) : NaN;
  return Math.abs(value) < LARGEST_NUMBER ? value : NaN;
}

/** How many values are missing. */
export function countMissing(values: Float64Array): number {
  let count = 0;
  for (let i = 0; i < values.length; i += 1) if (Number.isNaN(values[i]!)) count += 1;
  return count;
}

/** A day at 100 samples a second. */
export const MAX_MOTION_ROWS = 8_640_000;
