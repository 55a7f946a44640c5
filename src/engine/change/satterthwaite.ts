// Degrees of freedom of a fixed effect when the variances were estimated: Satterthwaite's approximation as used for mixed models
// by Kuznetsova, Brockhoff & Christensen 2017 (J. Stat. Softw. 82(13), from memory): df = 2 V² / (gᵀ A g), V the variance of the
// contrast, g its gradient and A the asymptotic covariance of the variance parameters. Checked against lmerTest.
import { choleskyInPlace, inverseFromCholesky, quadraticForm } from "./dense.ts";
import { prepareGroupProducts, type MixedModelData } from "./group-products.ts";
import { lambdaFromTheta, rhoFromTheta, type MixedModelFit } from "./mixed-model.ts";
import { collapse, remlDeviance } from "./mixed-model-criterion.ts";

/**
 * Degrees of freedom of each fixed effect. Infinity where the variance of the effect does not depend on the variance parameters.
 * A variance at zero is held there: its derivative is not defined. Cost: about 2 k² evaluations, k the number of variance parameters.
 */
export function satterthwaiteDf(data: MixedModelData, fit: MixedModelFit): Float64Array {
  const q = data.random.length;
  const fitsRho = fit.theta.length > (q * (q + 1)) / 2;
  const prepare = prepareGroupProducts(data);
  const full = [...fit.theta, Math.log(fit.residualSd)];
  // Diagonal entries of Lambda that ended at zero sit on the edge of the parameter space.
  const free = full
    .map((_, i) => i)
    .filter((i) => i >= fit.theta.length || Math.abs(full[i]!) > 1e-5 || !isDiagonal(i, q));
  const modelAt = (parameters: readonly number[]): ReturnType<typeof collapse> =>
    collapse(prepare(fitsRho ? rhoFromTheta(parameters[full.length - 2]!) : 0), lambdaFromTheta(parameters, q));
  const devianceAt = (parameters: readonly number[]): number =>
    remlDeviance(modelAt(parameters), Math.exp(2 * parameters.at(-1)!));
  const variancesAt = (parameters: readonly number[]): Float64Array => {
    const model = modelAt(parameters);
    const factor = model.xx.slice();
    choleskyInPlace(factor, model.fixedCount);
    const inverse = inverseFromCholesky(factor, model.fixedCount);
    const sigma2 = Math.exp(2 * parameters.at(-1)!);
    return Float64Array.from({ length: model.fixedCount }, (_, i) => sigma2 * inverse[i * model.fixedCount + i]!);
  };
  const step = full.map((x) => 1e-3 * Math.max(Math.abs(x), 0.05));
  const moved = (...moves: readonly (readonly [number, number])[]): number[] => {
    const parameters = [...full];
    for (const [index, sign] of moves) parameters[index] = parameters[index]! + sign * step[index]!;
    return parameters;
  };
  const k = free.length;
  const hessian = new Float64Array(k * k);
  const centre = devianceAt(full);
  free.forEach((i, a) => {
    free.forEach((j, b) => {
      if (b > a) return;
      const second =
        i === j
          ? (devianceAt(moved([i, 1])) - 2 * centre + devianceAt(moved([i, -1]))) / step[i]! ** 2
          : (devianceAt(moved([i, 1], [j, 1])) -
              devianceAt(moved([i, 1], [j, -1])) -
              devianceAt(moved([i, -1], [j, 1])) +
              devianceAt(moved([i, -1], [j, -1]))) /
            (4 * step[i]! * step[j]!);
      hessian[a * k + b] = second;
      hessian[b * k + a] = second;
    });
  });
  if (choleskyInPlace(hessian, k) === -Infinity) return new Float64Array(fit.fixed.length).fill(containment(data));
  // The deviance is −2 ln L: its Hessian is twice the information.
  const covariance = inverseFromCholesky(hessian, k).map((x) => 2 * x);
  const gradients = free.map((i) => {
    const [up, down] = [variancesAt(moved([i, 1])), variancesAt(moved([i, -1]))];
    return up.map((x, c) => (x - down[c]!) / (2 * step[i]!));
  });
  return variancesAt(full).map((variance, c) => {
    const noise = quadraticForm(
      covariance,
      k,
      gradients.map((gradient) => gradient[c]!),
    );
    return noise > 0 ? (2 * variance ** 2) / noise : Infinity;
  });
}

/** When the curvature cannot be had, the careful answer: groups minus fixed effects, at least one. */
function containment(data: MixedModelData): number {
  let groups = 0;
  for (let i = 0; i < data.group.length; i += 1) groups = Math.max(groups, data.group[i]! + 1);
  return Math.max(1, groups - data.fixed.length);
}

function isDiagonal(index: number, q: number): boolean {
  let position = 0;
  for (let c = 0; c < q; c += 1) {
    if (index === position) return true;
    position += q - c;
  }
  return false;
}
