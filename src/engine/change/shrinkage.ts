// How much an answer leaned on borrowed values: said beside every answer.
import type { Shrinkage } from "./comparison.ts";
import type { MatchedSpeedFit } from "./matched-speed-model.ts";
import { mixtureMean, mixtureSd } from "./normal-mixture.ts";
import type { Normal } from "./speed-exponent.ts";

/**
 * Prior shares: for the exponent, prior precision over posterior precision; for the day-to-day spread, posterior over prior
 * variance of its logarithm. Both 0 (all from the runs) to 1 (all borrowed).
 */
export function shrinkageOf(
  fit: MatchedSpeedFit,
  prior: { readonly exponent: Normal; readonly dayToDay: { readonly median: number; readonly logSd: number } },
  priorFrom: Shrinkage["priorFrom"],
): Shrinkage {
  const { values, weights } = fit.dayToDaySd;
  const meanLog = values.reduce((sum, tau, k) => sum + weights[k]! * Math.log(tau), 0);
  const variance = values.reduce((sum, tau, k) => sum + weights[k]! * (Math.log(tau) - meanLog) ** 2, 0);
  const exponentSd = mixtureSd(fit.exponent);
  const percent = (share: number): number => 100 * weightedQuantile(values, weights, share);
  return {
    speedExponent: {
      estimate: mixtureMean(fit.exponent),
      standardError: exponentSd,
      priorShare: Math.min(1, (exponentSd / prior.exponent.sd) ** 2),
    },
    dayToDaySdPercent: {
      estimate: 100 * Math.exp(meanLog),
      interval95: { low: percent(0.025), high: percent(0.975) },
      priorShare: Math.min(1, variance / prior.dayToDay.logSd ** 2),
    },
    slopeBetweenRunsSd: fit.slopeSd,
    priorFrom,
  };
}

function weightedQuantile(values: readonly number[], weights: readonly number[], share: number): number {
  let sum = 0;
  for (let k = 0; k < values.length; k += 1) {
    sum += weights[k]!;
    if (sum >= share) return values[k]!;
  }
  return values.at(-1)!;
}
