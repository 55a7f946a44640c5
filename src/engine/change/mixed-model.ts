// Linear mixed model by restricted maximum likelihood: random intercept and slopes per group, optional first-order
// autocorrelation inside the group. Checked against lme4 and nlme (oracles/mixed-model, oracles/gls).
import { choleskyInPlace, inverseFromCholesky, solveLowerInPlace, solveLowerTransposeInPlace } from "./dense.ts";
import { prepareGroupProducts, type GroupProducts, type MixedModelData } from "./group-products.ts";
import { collapse, remlCriterion } from "./mixed-model-criterion.ts";
import { minimize } from "./nelder-mead.ts";

export interface MixedModelOptions {
  /** Estimate a first-order autocorrelation of the residuals over `data.time`. Default false. */
  readonly autocorrelation?: boolean;
}

export interface MixedModelFit {
  /** Fixed effects in the order of the columns. */
  readonly fixed: Float64Array;
  readonly fixedStandardErrors: Float64Array;
  /** Covariance of the fixed effects, row-major. */
  readonly fixedCovariance: Float64Array;
  /** Covariance of the random effects, row-major randomCount². */
  readonly randomCovariance: Float64Array;
  readonly residualSd: number;
  /** Correlation of residuals one unit of time apart; 0 when not fitted. */
  readonly rho: number;
  /** −2 ln restricted likelihood. */
  readonly remlCriterion: number;
  /** Predicted random effects of each group (BLUP), and their conditional covariances. */
  readonly groupEffects: readonly Float64Array[];
  readonly groupEffectCovariances: readonly Float64Array[];
  /** The free parameters at the optimum: lower triangle of Lambda by column, then logit rho. For numerical derivatives. */
  readonly theta: readonly number[];
  readonly converged: boolean;
}

/** Number of free entries of a q × q lower triangle. */
const triangle = (q: number): number => (q * (q + 1)) / 2;

/** Lambda, row-major, from its lower triangle by column. */
export function lambdaFromTheta(theta: readonly number[], q: number): Float64Array {
  const lambda = new Float64Array(q * q);
  let next = 0;
  for (let c = 0; c < q; c += 1)
    for (let r = c; r < q; r += 1) {
      lambda[r * q + c] = theta[next]!;
      next += 1;
    }
  return lambda;
}

export const rhoFromTheta = (x: number): number => 1 / (1 + Math.exp(-x));

/**
 * Fits y = X beta + Z b + e by REML.
 * Needs more rows than fixed columns and at least two groups when there are random effects (RangeError otherwise).
 * A variance that wants to be negative ends at zero. Cost: about 200 evaluations of the criterion.
 * Source: Bates et al. 2015; Pinheiro & Bates 2000, section 5.3 for the autocorrelation (from memory).
 */
export function fitMixedModel(data: MixedModelData, options: MixedModelOptions = {}): MixedModelFit {
  const n = data.y.length;
  const p = data.fixed.length;
  const q = data.random.length;
  if (n <= p) throw new RangeError(`fitMixedModel: needs more rows than fixed effects, got ${n} rows and ${p} columns`);
  for (const column of [...data.fixed, ...data.random, data.group])
    if (column.length !== n) throw new RangeError("fitMixedModel: every column must be as long as y");
  const products = prepareGroupProducts(data);
  const fitsRho = options.autocorrelation === true;
  const fixedProducts = fitsRho ? undefined : products(0);
  const productsAt = (theta: readonly number[]): GroupProducts =>
    fixedProducts ?? products(rhoFromTheta(theta[triangle(q)]!));
  const criterionAt = (theta: readonly number[]): number => {
    if (fitsRho && Math.abs(theta[triangle(q)]!) > 12) return Infinity;
    return remlCriterion(collapse(productsAt(theta), lambdaFromTheta(theta, q))).criterion;
  };
  const start = [...lambdaFromIdentity(q), ...(fitsRho ? [0] : [])];
  const best =
    start.length === 0
      ? { at: start, value: criterionAt(start), converged: true }
      : minimize(criterionAt, start, { tolerance: 1e-11 });
  return finish(productsAt(best.at), best.at, q, fitsRho, best.converged);
}

function lambdaFromIdentity(q: number): number[] {
  const start: number[] = [];
  for (let c = 0; c < q; c += 1) for (let r = c; r < q; r += 1) start.push(r === c ? 1 : 0);
  return start;
}

function finish(
  products: GroupProducts,
  theta: readonly number[],
  q: number,
  fitsRho: boolean,
  converged: boolean,
): MixedModelFit {
  const lambda = lambdaFromTheta(theta, q);
  const model = collapse(products, lambda);
  const { criterion, sigma2 } = remlCriterion(model);
  const p = model.fixedCount;
  const factor = model.xx.slice();
  choleskyInPlace(factor, p);
  const fixed = model.xy.slice();
  solveLowerInPlace(factor, p, fixed);
  solveLowerTransposeInPlace(factor, p, fixed);
  const fixedCovariance = inverseFromCholesky(factor, p).map((x) => x * sigma2);
  const randomCovariance = new Float64Array(q * q);
  for (let i = 0; i < q; i += 1)
    for (let j = 0; j < q; j += 1)
      for (let k = 0; k <= Math.min(i, j); k += 1)
        randomCovariance[i * q + j] = randomCovariance[i * q + j]! + sigma2 * lambda[i * q + k]! * lambda[j * q + k]!;
  const effects = groupEffects(products, lambda, fixed, sigma2);
  return {
    fixed,
    fixedStandardErrors: Float64Array.from({ length: p }, (_, i) => Math.sqrt(fixedCovariance[i * p + i]!)),
    fixedCovariance,
    randomCovariance,
    residualSd: Math.sqrt(sigma2),
    rho: fitsRho ? rhoFromTheta(theta[triangle(q)]!) : 0,
    remlCriterion: criterion,
    groupEffects: effects.map((effect) => effect.mean),
    groupEffectCovariances: effects.map((effect) => effect.covariance),
    theta,
    converged,
  };
}

/** b = Lambda (Lambdaᵀ ZᵀZ Lambda + I)⁻¹ Lambdaᵀ Zᵀ(y − X beta); covariance sigma² Lambda (…)⁻¹ Lambdaᵀ, fixed effects taken as known. */
function groupEffects(
  products: GroupProducts,
  lambda: Float64Array,
  fixed: Float64Array,
  sigma2: number,
): { mean: Float64Array; covariance: Float64Array }[] {
  const { side, randomCount: q, fixedCount: p } = products;
  if (q === 0) return [];
  return products.matrices.map((matrix) => {
    const residual = new Float64Array(q);
    for (let k = 0; k < q; k += 1) {
      residual[k] = matrix[k * side + q + p]!;
      for (let j = 0; j < p; j += 1) residual[k] = residual[k]! - matrix[k * side + q + j]! * fixed[j]!;
    }
    const inner = new Float64Array(q * q);
    const right = new Float64Array(q);
    for (let i = 0; i < q; i += 1) {
      for (let k = i; k < q; k += 1) right[i] = right[i]! + lambda[k * q + i]! * residual[k]!;
      for (let j = 0; j < q; j += 1) {
        let sum = i === j ? 1 : 0;
        for (let k = i; k < q; k += 1)
          for (let l = j; l < q; l += 1) sum += lambda[k * q + i]! * matrix[k * side + l]! * lambda[l * q + j]!;
        inner[i * q + j] = sum;
      }
    }
    choleskyInPlace(inner, q);
    const inverse = inverseFromCholesky(inner, q);
    const mean = new Float64Array(q);
    const covariance = new Float64Array(q * q);
    for (let i = 0; i < q; i += 1) {
      for (let k = 0; k <= i; k += 1)
        for (let l = 0; l < q; l += 1) {
          const weight = lambda[i * q + k]! * inverse[k * q + l]!;
          mean[i] = mean[i]! + weight * right[l]!;
          for (let j = 0; j < q; j += 1)
            if (l <= j) covariance[i * q + j] = covariance[i * q + j]! + sigma2 * weight * lambda[j * q + l]!;
        }
    }
    return { mean, covariance };
  });
}
