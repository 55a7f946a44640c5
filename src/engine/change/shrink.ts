// Each runner's own estimate drawn towards the group, by as much as it is uncertain: the normal hierarchical model, the true
// spread between runners averaged over (Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.4, from memory).
import { mixtureMean, mixtureQuantile, type NormalMixture } from "./normal-mixture.ts";
import type { Interval } from "../quantities/uncertain.ts";

export interface OwnEstimate {
  readonly estimate: number;
  /** Positive; Infinity for a runner about whom nothing is known. */
  readonly standardError: number;
}

export interface Shrunk {
  readonly estimate: number;
  readonly interval95: Interval;
  /** How much of the own estimate was kept, 0–1. */
  readonly ownShare: number;
}

export interface SpreadPrior {
  /** Log-normal prior of the true spread between runners, in the estimates' unit. */
  readonly median: number;
  readonly logSd: number;
}

const GRID_COUNT = 41;

/** Shrinks the estimates of a group; needs at least two with a finite error (RangeError). The order is kept. */
export function shrinkTowardsGroup(own: readonly OwnEstimate[], prior: SpreadPrior): Shrunk[] {
  const finite = own.filter(({ standardError }) => Number.isFinite(standardError));
  if (finite.length < 2)
    throw new RangeError("shrinkTowardsGroup: needs at least two runners with an estimate of their own");
  const points = Array.from({ length: GRID_COUNT }, (_, k) => {
    const z = -3 + (6 * k) / (GRID_COUNT - 1);
    const spread = prior.median * Math.exp(prior.logSd * z);
    const precisions = finite.map(({ standardError }) => 1 / (standardError ** 2 + spread ** 2));
    const total = precisions.reduce((a, b) => a + b, 0);
    const mean = finite.reduce((sum, { estimate }, i) => sum + precisions[i]! * estimate, 0) / total;
    const misfit = finite.reduce((sum, { estimate }, i) => sum + precisions[i]! * (estimate - mean) ** 2, 0);
    const logDet = precisions.reduce((sum, p) => sum + Math.log(p), 0);
    return { spread, mean, meanVariance: 1 / total, logWeight: 0.5 * (logDet - Math.log(total) - misfit - z * z) };
  });
  const top = Math.max(...points.map(({ logWeight }) => logWeight));
  const raw = points.map(({ logWeight }) => Math.exp(logWeight - top));
  const sum = raw.reduce((a, b) => a + b, 0);
  const weights = raw.map((w) => w / sum);
  return own.map(({ estimate, standardError }) => {
    const shares = points.map(({ spread }) => spread ** 2 / (spread ** 2 + standardError ** 2));
    const mixture: NormalMixture = {
      means: points.map(({ mean }, k) => (shares[k]! > 0 ? mean + shares[k]! * (estimate - mean) : mean)),
      sds: points.map(({ spread, meanVariance }, k) =>
        Math.sqrt(spread ** 2 * (1 - shares[k]!) + (1 - shares[k]!) ** 2 * meanVariance),
      ),
      weights,
    };
    return {
      estimate: mixtureMean(mixture),
      interval95: { low: mixtureQuantile(mixture, 0.025), high: mixtureQuantile(mixture, 0.975) },
      ownShare: shares.reduce((total, share, k) => total + share * weights[k]!, 0),
    };
  });
}
