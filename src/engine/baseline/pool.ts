// Several measures of one rate: pooled when they agree, questioned when they do not (rule M2).
import { disagreementLimit } from "../evidence/measuring.ts";
import type { Uncertain } from "../quantities/uncertain.ts";

/** Do two measures differ by more than their errors allow? */
export function disagree(a: Uncertain, b: Uncertain): boolean {
  const allowed = disagreementLimit.value * Math.hypot(a.standardError, b.standardError);
  return Math.abs(a.estimate - b.estimate) > allowed;
}

/**
 * Inverse-variance mean of at least one independent measure of the same rate. One measure is returned as it is, with
 * its own exact interval; several get a normal interval (a mean of two triangles is close to normal: its exact
 * 95 % interval is 1 % narrower).
 */
function poolInverseVariance(measures: readonly Uncertain[]): Uncertain {
  if (measures.length === 0) throw new RangeError("poolInverseVariance: measures must hold at least 1, got 0");
  if (measures.length === 1) return measures[0]!;
  const weights = measures.map((measure) => 1 / measure.standardError ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const estimate = measures.reduce((sum, measure, index) => sum + measure.estimate * weights[index]!, 0) / total;
  const standardError = 1 / Math.sqrt(total);
  return {
    estimate,
    standardError,
    interval95: { low: estimate - 1.96 * standardError, high: estimate + 1.96 * standardError },
    sampleCount: measures.reduce((sum, measure) => sum + measure.sampleCount, 0),
    method: `${measures.length} measures pooled by inverse variance`,
  };
}

export interface PooledRate {
  readonly rate: Uncertain;
  /** Indices of measures that the others outvoted. */
  readonly setAside: readonly number[];
  /** The measures contradict each other: one more is needed before this can be trusted. */
  readonly disputed: boolean;
}

/**
 * Pools measures of one rate. Two that disagree are pooled with an error wide enough to hold both, and disputed. From
 * three on, a majority that agrees with the median outvotes the rest; without one the answer stays disputed.
 */
export function poolRates(measures: readonly Uncertain[]): PooledRate {
  const sorted = [...measures].sort((a, b) => a.estimate - b.estimate);
  const contradicted = sorted.some((measure) => disagree(measure, sorted[0]!));
  if (!contradicted) return { rate: poolInverseVariance(measures), setAside: [], disputed: false };
  const median = sorted[Math.floor((sorted.length - 1) / 2)]!;
  // With an even number the two middle ones are tried, and the larger company wins.
  const upper = sorted[Math.floor(sorted.length / 2)]!;
  const company = (centre: Uncertain): number[] =>
    measures.flatMap((measure, index) => (disagree(measure, centre) ? [] : [index]));
  const kept = company(upper).length > company(median).length ? company(upper) : company(median);
  if (measures.length >= 3 && 2 * kept.length > measures.length) {
    const keptSet = new Set(kept);
    return {
      rate: poolInverseVariance(kept.map((index) => measures[index]!)),
      setAside: measures.flatMap((_, index) => (keptSet.has(index) ? [] : [index])),
      disputed: false,
    };
  }
  return { rate: widened(measures), setAside: [], disputed: true };
}

/** The pooled mean with its error scaled up by the observed scatter (Birge's ratio). */
function widened(measures: readonly Uncertain[]): Uncertain {
  const pooled = poolInverseVariance(measures);
  const chiSquare = measures.reduce((sum, m) => sum + ((m.estimate - pooled.estimate) / m.standardError) ** 2, 0);
  const ratio = Math.max(1, Math.sqrt(chiSquare / (measures.length - 1)));
  const standardError = pooled.standardError * ratio;
  return {
    ...pooled,
    standardError,
    interval95: { low: pooled.estimate - 1.96 * standardError, high: pooled.estimate + 1.96 * standardError },
    method: `${pooled.method}, error widened because they disagree`,
  };
}
