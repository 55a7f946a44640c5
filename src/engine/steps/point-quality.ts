// The probability that a rate is within 2 spm of the truth, from what the window showed. Logistic, fitted on invented
// recordings of all placements (docs/method/step-rate.md) and checked on others.

export interface PointSigns {
  readonly explainedShare: number;
  /** To the best other rate or to no rhythm. */
  readonly marginNats: number;
  /** Of the evidence at its peak, nats per spm². */
  readonly curvature: number;
  readonly windowS: number;
  readonly measuredShare: number;
}

export function pointQuality(signs: PointSigns): number {
  const margin = Math.min(signs.marginNats, 20);
  const logit = -3 + 0.25 * margin + 5 * signs.explainedShare;
  return 1 / (1 + Math.exp(-logit));
}
