// The generalised least squares step of a linear mixed model for given covariance parameters, and its REML criterion.
// Notation of Bates, Mächler, Bolker & Walker 2015 (J. Stat. Softw. 67(1), section 3): y = X beta + Z b + e,
// b = Lambda u per group, u ~ N(0, sigma² I), e ~ N(0, sigma² R).
import { choleskyInPlace, solveLowerInPlace } from "./dense.ts";
import type { GroupProducts } from "./group-products.ts";

export interface CollapsedModel {
  readonly fixedCount: number;
  readonly rowCount: number;
  /** XᵀV⁻¹X, XᵀV⁻¹y and yᵀV⁻¹y, with V the covariance of y divided by sigma². */
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: number;
  /** ln det V. */
  readonly logDetV: number;
}

/** Integrates the random effects out. `lambda` is the lower-triangular relative factor, row-major randomCount². */
export function collapse(products: GroupProducts, lambda: ArrayLike<number>): CollapsedModel {
  const { side, randomCount: q, fixedCount: p } = products;
  const width = p + 1;
  const xx = new Float64Array(p * p);
  const xy = new Float64Array(p);
  let yy = 0;
  let logDetV = products.logDetCorrelation;
  const inner = new Float64Array(q * q);
  const half = new Float64Array(q * width);
  for (const matrix of products.matrices) {
    for (let i = 0; i < p; i += 1) {
      for (let j = 0; j < p; j += 1) xx[i * p + j] = xx[i * p + j]! + matrix[(q + i) * side + q + j]!;
      xy[i] = xy[i]! + matrix[(q + i) * side + q + p]!;
    }
    yy += matrix[(q + p) * side + q + p]!;
    if (q === 0) continue;
    // inner = Lambdaᵀ ZᵀZ Lambda + I; half = L⁻¹ Lambdaᵀ Zᵀ[X y].
    for (let i = 0; i < q; i += 1) {
      for (let j = 0; j < q; j += 1) {
        let sum = i === j ? 1 : 0;
        for (let k = i; k < q; k += 1)
          for (let l = j; l < q; l += 1) sum += lambda[k * q + i]! * matrix[k * side + l]! * lambda[l * q + j]!;
        inner[i * q + j] = sum;
      }
      for (let c = 0; c < width; c += 1) {
        let sum = 0;
        for (let k = i; k < q; k += 1) sum += lambda[k * q + i]! * matrix[k * side + q + c]!;
        half[i * width + c] = sum;
      }
    }
    logDetV += choleskyInPlace(inner, q);
    solveLowerInPlace(inner, q, half, width);
    for (let k = 0; k < q; k += 1) {
      const row = k * width;
      for (let i = 0; i < p; i += 1) {
        for (let j = 0; j < p; j += 1) xx[i * p + j] = xx[i * p + j]! - half[row + i]! * half[row + j]!;
        xy[i] = xy[i]! - half[row + i]! * half[row + p]!;
      }
      yy -= half[row + p]! ** 2;
    }
  }
  return { fixedCount: p, rowCount: products.rowCount, xx, xy, yy, logDetV };
}

/** −2 ln restricted likelihood with sigma² given. Equal to the criterion below at its sigma². */
export function remlDeviance(model: CollapsedModel, sigma2: number): number {
  const { fixedCount: p, rowCount: n } = model;
  const { logDet, residual } = leastSquares(model);
  return model.logDetV + logDet + (n - p) * Math.log(2 * Math.PI * sigma2) + residual / sigma2;
}

export interface RemlValue {
  /** −2 ln restricted likelihood, sigma² profiled out; the constant is lme4's. */
  readonly criterion: number;
  readonly sigma2: number;
}

/** The profiled REML criterion: ln det V + ln det XᵀV⁻¹X + (n−p)(1 + ln 2π r²/(n−p)). Infinity where X has no full rank. */
export function remlCriterion(model: CollapsedModel): RemlValue {
  const { fixedCount: p, rowCount: n } = model;
  const { logDet, residual } = leastSquares(model);
  if (logDet === -Infinity) return { criterion: Infinity, sigma2: Infinity };
  const sigma2 = Math.max(residual, 1e-300) / (n - p);
  return { criterion: model.logDetV + logDet + (n - p) * (1 + Math.log(2 * Math.PI * sigma2)), sigma2 };
}

/** ln det XᵀV⁻¹X and the weighted residual sum of squares. */
function leastSquares(model: CollapsedModel): { logDet: number; residual: number } {
  const p = model.fixedCount;
  const factor = model.xx.slice();
  const logDet = choleskyInPlace(factor, p);
  const half = model.xy.slice();
  solveLowerInPlace(factor, p, half);
  let residual = model.yy;
  for (let i = 0; i < p; i += 1) residual -= half[i]! ** 2;
  return { logDet, residual };
}
