// The mean of something that is alike from one second to the next: averaged per minute first, then over the minutes.
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { t95 } from "./student-t.ts";

export interface TimedValue {
  /** Seconds, middle of the window. */
  readonly timeS: number;
  readonly value: number;
}

/**
 * Mean with a 95 % interval from one-minute batch means (t with batches − 1 degrees of freedom).
 * Needs two minutes with values. What remains alike between neighbouring minutes widens it by their first correlation.
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
  let product = 0;
  for (let i = 1; i < n; i += 1) product += (means[i]! - estimate) * (means[i - 1]! - estimate);
  const correlation = variance > 0 ? Math.min(0.8, Math.max(0, product / ((n - 1) * variance))) : 0;
  const standardError = Math.sqrt(((variance / n) * (1 + correlation)) / (1 - correlation));
  const half = t95(n - 1) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: n,
    method,
  };
}
