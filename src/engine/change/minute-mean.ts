// The mean of something that is alike from one second to the next: averaged per minute first, then over the minutes.
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { lagOneCorrelation, longRunRatio } from "./lag-one.ts";
import { t95 } from "./student-t.ts";

export interface TimedValue {
  /** Seconds, middle of the window. */
  readonly timeS: number;
  readonly value: number;
}

/**
 * Mean with a 95 % interval from one-minute batch means (Student's t).
 * Needs two minutes with values. What remains alike between neighbouring minutes widens it.
 * Source: batch means for correlated series, from memory.
 */
export function minuteMean(values: readonly TimedValue[], method: string): Uncertain | NotEnough {
  const batches = new Map<number, number[]>();
  for (const { timeS, value } of values) {
    const index = Math.floor(timeS / SECONDS_PER_MINUTE);
    const batch = batches.get(index);
    if (batch === undefined) batches.set(index, [value]);
    else batch.push(value);
  }
  const means = [...batches.entries()]
    .toSorted(([a], [b]) => a - b)
    .map(([, batch]) => batch.reduce((a, b) => a + b, 0) / batch.length);
  const n = means.length;
  if (n < 2) return { kind: "not-enough", need: "two minutes", have: n === 0 ? "none" : "one" };
  const estimate = means.reduce((a, b) => a + b, 0) / n;
  const variance = means.reduce((sum, x) => sum + (x - estimate) ** 2, 0) / (n - 1);
  const ratio = longRunRatio(
    lagOneCorrelation(
      means.map((x) => x - estimate),
      1,
    ),
  );
  const standardError = Math.sqrt((variance / n) * ratio);
  // Alike minutes also say less about their own spread.
  const half = t95(Math.max(1, n / ratio - 1)) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: n,
    method,
  };
}
