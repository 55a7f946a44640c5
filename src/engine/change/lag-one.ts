// How alike neighbouring values of a short series are, and what that does to the error of a mean or a trend.

/**
 * First-order correlation of values around zero (mean or trend already taken off), put right for short series:
 * r + (1 + 3 r)/n per fitted constant (Marriott & Pope 1954, from memory). Kept in [0, 0.9].
 */
export function lagOneCorrelation(residuals: ArrayLike<number>, fittedCount: number): number {
  const n = residuals.length;
  let product = 0;
  let square = 0;
  for (let i = 0; i < n; i += 1) {
    square += residuals[i]! ** 2;
    if (i > 0) product += residuals[i]! * residuals[i - 1]!;
  }
  const r = square > 0 ? product / square : 0;
  return Math.min(0.9, Math.max(0, r + (fittedCount * (1 + 3 * r)) / n));
}

/** Long-run variance of an AR(1) over its variance: (1 + r)/(1 − r). */
export function longRunRatio(r: number): number {
  return (1 + r) / (1 - r);
}
