// Quantiles of the t and normal distributions.
import tQuantile from "@stdlib/stats-base-dists-t-quantile";

/** The two-sided 95 % factor of Student's t; df > 0. Infinity gives 1.96. */
export function t95(df: number): number {
  if (!(df > 0)) throw new RangeError(`t95: degrees of freedom must be positive, got ${df}`);
  return studentQuantile(0.975, df);
}

/** Quantile of Student's t. 0 < share < 1; df > 0, Infinity is the normal. */
export function studentQuantile(share: number, df: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`studentQuantile: share must be in (0, 1), got ${share}`);
  // Above 1e7 the t and the normal agree to ten digits.
  return tQuantile(share, Math.min(df, 1e7));
}

/** Standard normal distribution function, absolute error below 1e-13: series near the middle, continued fraction in the tails. */
export function normalCdf(z: number): number {
  const x = Math.abs(z);
  if (x > 38) return z > 0 ? 1 : 0;
  const density = Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
  let upper: number;
  if (x < 4) {
    // Phi(x) = 1/2 + phi(x) (x + x³/3 + x⁵/15 + …): Abramowitz & Stegun 26.2.11 (from memory).
    let term = x;
    let sum = x;
    for (let k = 1; k < 200 && term > 1e-18; k += 1) {
      term *= (x * x) / (2 * k + 1);
      sum += term;
    }
    upper = 0.5 - density * sum;
  } else {
    // Upper tail as the continued fraction phi(x) / (x + 1/(x + 2/(x + …))): Abramowitz & Stegun 26.2.14 (from memory).
    let fraction = x;
    for (let k = 60; k >= 1; k -= 1) fraction = x + k / fraction;
    upper = density / fraction;
  }
  return z > 0 ? 1 - upper : upper;
}
