// The probability that a rate is within 2 spm of the truth, from what the window showed.

export interface PointSigns {
  readonly state: "running" | "walking";
  /** Share of the window's energy that the comb explains. */
  readonly explainedShare: number;
  /** Nats to the best other rate or to no rhythm. */
  readonly marginNats: number;
  /** Nats to half or twice the rate, in this window alone. */
  readonly octaveMarginNats: number;
  /** Of the evidence at its peak, nats per spm². */
  readonly curvature: number;
}

/**
 * Logistic in the share, the logarithms of margin and curvature, and the state, fitted to 14,528 windows of invented
 * recordings; times the probability that it is not half or twice, logistic in that margin (by judgement: 0.73 at 2 nats,
 * 0.98 at 5). How often it is right: docs/accuracy.md, by script, on other recordings than those of the fit.
 */
export function pointQuality(signs: PointSigns): number {
  const logit =
    0.16 +
    0.21 * signs.explainedShare +
    1.35 * Math.min(4, Math.log(Math.max(signs.marginNats, 0.3))) +
    1.16 * Math.log(Math.max(signs.curvature, 1e-3)) +
    (signs.state === "running" ? -1.23 : 0);
  return logistic(logit) * logistic(0.9 * signs.octaveMarginNats - 0.8);
}

function logistic(logit: number): number {
  return 1 / (1 + Math.exp(-logit));
}
