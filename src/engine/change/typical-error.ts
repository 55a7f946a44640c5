// How much repeats of the same measurement differ, and which change is then worth a word.
// Source: Hopkins 2000, Sports Med 30(1):1–15 (abstract: typical error is the within-subject SD of repeats).
import { WORTHWHILE_SHARE } from "../evidence/change.ts";
import { normalCdf } from "./student-t.ts";

export interface TypicalError {
  readonly mean: number;
  /** Standard deviation of the repeats, in their own unit. */
  readonly typicalError: number;
  /** The same as percent of the mean. */
  readonly typicalErrorPercent: number;
  readonly repeatCount: number;
}

/** Typical error of one runner's repeats under like conditions; at least two values, mean not 0 (RangeError). */
export function typicalError(repeats: readonly number[]): TypicalError {
  const n = repeats.length;
  if (n < 2) throw new RangeError(`typicalError: needs at least two repeats, got ${n}`);
  const mean = repeats.reduce((a, b) => a + b, 0) / n;
  if (mean === 0) throw new RangeError("typicalError: the mean is 0, percent has no meaning");
  const sd = Math.sqrt(repeats.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1));
  return { mean, typicalError: sd, typicalErrorPercent: (100 * sd) / Math.abs(mean), repeatCount: n };
}

/** Typical error from two measurements of several runners: SD of the differences over √2. At least two pairs. */
export function typicalErrorOfPairs(first: readonly number[], second: readonly number[]): number {
  if (first.length !== second.length || first.length < 2)
    throw new RangeError("typicalErrorOfPairs: needs two lists of the same length, at least two pairs");
  return typicalErrorSd(second.map((x, i) => x - first[i]!)) / Math.SQRT2;
}

function typicalErrorSd(values: readonly number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1));
}

/** Change that two means of `repeatCount` recordings must differ by to be real with 95 % confidence: 1.96 √2 TE / √n, in TE's unit. */
export function minimalDetectableChange95(typicalErrorValue: number, repeatCount = 1): number {
  return (1.96 * Math.SQRT2 * typicalErrorValue) / Math.sqrt(repeatCount);
}

/** Standard error of measurement from the spread and the reliability: SD √(1 − ICC). */
export function standardErrorOfMeasurement(sd: number, intraclassCorrelation: number): number {
  return sd * Math.sqrt(1 - intraclassCorrelation);
}

/** Smallest worthwhile change: 0.2 of the spread between runners, in its unit. */
export function smallestWorthwhileChange(betweenRunnerSd: number): number {
  return WORTHWHILE_SHARE.value * betweenRunnerSd;
}

/** Chance that a true change exceeds the smallest worthwhile one: normal form, z = (change − swc) / (√2 TE / √n). From memory, derived. */
export function chanceOfWorthwhileChange(
  change: number,
  swc: number,
  typicalErrorValue: number,
  repeatCount = 1,
): number {
  return normalCdf((change - swc) / ((Math.SQRT2 * typicalErrorValue) / Math.sqrt(repeatCount)));
}
