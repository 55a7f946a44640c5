// What is known of a number when one nuisance parameter is averaged over: a weighted mixture of normals.
import { normalCdf } from "./student-t.ts";

export interface NormalMixture {
  readonly means: readonly number[];
  readonly sds: readonly number[];
  /** Sum to 1. */
  readonly weights: readonly number[];
}

export function mixtureMean(mixture: NormalMixture): number {
  return mixture.means.reduce((sum, mean, k) => sum + mean * mixture.weights[k]!, 0);
}

export function mixtureSd(mixture: NormalMixture): number {
  const centre = mixtureMean(mixture);
  const second = mixture.means.reduce(
    (sum, mean, k) => sum + mixture.weights[k]! * (mixture.sds[k]! ** 2 + (mean - centre) ** 2),
    0,
  );
  return Math.sqrt(second);
}

export function mixtureCdf(mixture: NormalMixture, x: number): number {
  return mixture.means.reduce((sum, mean, k) => sum + mixture.weights[k]! * normalCdf((x - mean) / mixture.sds[k]!), 0);
}

/** Quantile by bisection; 0 < share < 1. Absolute error below 1e-12 of the widest component. */
export function mixtureQuantile(mixture: NormalMixture, share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`mixtureQuantile: share must be in (0, 1), got ${share}`);
  let low = Math.min(...mixture.means.map((mean, k) => mean - 12 * mixture.sds[k]!));
  let high = Math.max(...mixture.means.map((mean, k) => mean + 12 * mixture.sds[k]!));
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (mixtureCdf(mixture, middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
