// The group's change from the runners' own: random effects, so that runners may differ, and few-run runners lean on the rest.
import type { NotEnough, Uncertain } from "../../engine/quantities/uncertain.ts";
import { t95 } from "../../engine/change/student-t.ts";

export interface OwnChange {
  readonly id: string;
  readonly change: { readonly estimate: number; readonly low95: number; readonly high95: number };
}

export interface PooledGroup {
  readonly groupChangeSpm: Uncertain | NotEnough;
  readonly betweenRunnersSdSpm: number | null;
  readonly shrunken: ReadonlyMap<string, Uncertain>;
  readonly warnings: string[];
}

const LEAST_RUNNERS = 3;

/**
 * DerSimonian–Laird random-effects mean with the Hartung–Knapp interval (t on n − 1 degrees of freedom), and each
 * runner's estimate drawn towards the mean by the share of the spread that is not measurement error. Needs 3 runners.
 * Sources: DerSimonian & Laird 1986, doi:10.1016/0197-2456(86)90046-2; Hartung & Knapp 2001, doi:10.1002/sim.791.
 */
export function poolGroup(own: readonly OwnChange[]): PooledGroup {
  const n = own.length;
  if (n < LEAST_RUNNERS)
    return {
      groupChangeSpm: {
        kind: "not-enough",
        need: `${LEAST_RUNNERS} runners with two runs before and two after`,
        have: `${n} such ${n === 1 ? "runner" : "runners"}`,
      },
      betweenRunnersSdSpm: null,
      shrunken: new Map(),
      warnings: [],
    };
  const estimates = own.map((entry) => entry.change.estimate);
  const variances = own.map((entry) => ((entry.change.high95 - entry.change.low95) / (2 * 1.96)) ** 2);
  const fixed = variances.map((variance) => 1 / variance);
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const fixedMean = sum(fixed.map((weight, i) => weight * (estimates[i] ?? 0))) / sum(fixed);
  const q = sum(fixed.map((weight, i) => weight * ((estimates[i] ?? 0) - fixedMean) ** 2));
  const scale = sum(fixed) - sum(fixed.map((weight) => weight ** 2)) / sum(fixed);
  const tauSquared = Math.max(0, (q - (n - 1)) / scale);
  const weights = variances.map((variance) => 1 / (variance + tauSquared));
  const mean = sum(weights.map((weight, i) => weight * (estimates[i] ?? 0))) / sum(weights);
  const spread = sum(weights.map((weight, i) => weight * ((estimates[i] ?? 0) - mean) ** 2)) / (n - 1);
  // Never narrower than the ordinary interval: with little spread Hartung–Knapp alone can be (Röver et al. 2015).
  const standardError = Math.sqrt(Math.max(1, spread) / sum(weights));
  const half = t95(n - 1) * standardError;
  const shrunken = new Map(
    own.map((entry, i): [string, Uncertain] => {
      const variance = variances[i] ?? 0;
      const trust = tauSquared / (tauSquared + variance);
      const estimate = mean + trust * (entry.change.estimate - mean);
      const error = Math.sqrt(trust * variance + (1 - trust) ** 2 * standardError ** 2);
      const interval95 = { low: estimate - 1.96 * error, high: estimate + 1.96 * error };
      return [
        entry.id,
        { estimate, standardError: error, interval95, sampleCount: n, method: "drawn towards the group" },
      ];
    }),
  );
  return {
    groupChangeSpm: {
      estimate: mean,
      standardError,
      interval95: { low: mean - half, high: mean + half },
      sampleCount: n,
      method: "random effects over runners, Hartung–Knapp interval",
    },
    betweenRunnersSdSpm: Math.sqrt(tauSquared),
    shrunken,
    warnings: n < 10 ? [`Only ${n} runners: how much runners differ is itself uncertain.`] : [],
  };
}
