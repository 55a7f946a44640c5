// Resampling that keeps neighbours together, because neighbouring minutes are alike: the circular moving-block bootstrap
// (Politis & Romano 1992, from memory).
import { createRandom } from "../quantities/random.ts";

export interface BlockBootstrapOptions {
  readonly seed: number;
  /** Default 1000. */
  readonly repeats?: number;
  /** Default: the cube root of n times 1.5, at least 2. */
  readonly blockLength?: number;
}

/** 1.5 times the cube root of n, at least 2. */
export function defaultBlockLength(n: number): number {
  return Math.max(2, Math.round(1.5 * Math.cbrt(n)));
}

/** Resampled index lists of 0…n−1, made of circular blocks. The same seed gives the same lists. */
export function blockResamples(n: number, options: BlockBootstrapOptions): Int32Array[] {
  if (!(n >= 1)) throw new RangeError(`blockResamples: n must be at least 1, got ${n}`);
  const random = createRandom(options.seed);
  const block = Math.min(n, options.blockLength ?? defaultBlockLength(n));
  return Array.from({ length: options.repeats ?? 1000 }, () => {
    const indices = new Int32Array(n);
    for (let filled = 0; filled < n; ) {
      const start = random.below(n);
      for (let k = 0; k < block && filled < n; k += 1, filled += 1) indices[filled] = (start + k) % n;
    }
    return indices;
  });
}

/** Quantile by linear interpolation between order statistics (R's type 7, numpy's default). */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort();
  const position = share * (sorted.length - 1);
  const low = Math.floor(position);
  const high = Math.min(low + 1, sorted.length - 1);
  return sorted[low]! + (position - low) * (sorted[high]! - sorted[low]!);
}
