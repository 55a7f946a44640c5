// Less load a step, more steps: what is left per kilometre.

/** Load per kilometre as a share of before: (1 + step-rate change)·(1 + per-step change)^exponent. Changes as shares, exponent ≥ 1. */
export function perKilometreRatio(stepRateChangeShare: number, perStepChangeShare: number, exponent = 1): number {
  if (!(stepRateChangeShare > -1 && perStepChangeShare >= -1 && exponent > 0))
    throw new RangeError("perKilometreRatio: changes must be above −1 and the exponent positive");
  return (1 + stepRateChangeShare) * (1 + perStepChangeShare) ** exponent;
}

/** By what share the load of a step must fall so that more steps add nothing: 1 − (1 + x)^(−1/b). */
export function breakEvenReduction(stepRateChangeShare: number, exponent: number): number {
  if (!(stepRateChangeShare > -1 && exponent > 0))
    throw new RangeError("breakEvenReduction: the change must be above −1 and the exponent positive");
  return 1 - (1 + stepRateChangeShare) ** (-1 / exponent);
}
