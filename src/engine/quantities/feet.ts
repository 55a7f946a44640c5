// Per-foot and both-feet numbers are easily confused, so a count enters only with its label and is queried, never converted silently.

export type Feet = "one" | "both";

/** Plausible ranges of a running count, RULES M3. */
export const FEET_RANGE_SPM = { one: { low: 60, high: 110 }, both: { low: 120, high: 220 } } as const;

export interface LabelledRate {
  readonly value: number;
  readonly feet: Feet;
}

export type FeetQuery =
  | { readonly kind: "plausible" }
  /** In the other label's range: ask which was meant. */
  | { readonly kind: "other-label"; readonly likely: Feet }
  | { readonly kind: "implausible"; readonly low: number; readonly high: number };

/** Is a contacts-per-minute value plausible under its label? */
export function queryFeet(rate: LabelledRate): FeetQuery {
  const own = FEET_RANGE_SPM[rate.feet];
  if (rate.value >= own.low && rate.value <= own.high) return { kind: "plausible" };
  const otherLabel: Feet = rate.feet === "one" ? "both" : "one";
  const other = FEET_RANGE_SPM[otherLabel];
  if (rate.value >= other.low && rate.value <= other.high) return { kind: "other-label", likely: otherLabel };
  return { kind: "implausible", low: own.low, high: own.high };
}

/** Both-feet steps per minute from a rate that says which feet it counts. */
export function bothFeetSpm(rate: LabelledRate): number {
  return rate.feet === "both" ? rate.value : 2 * rate.value;
}

/** A both-feet step rate (or a change of one) as a number that counts `feet`. */
export function rateForFeet(stepRateSpm: number, feet: Feet): number {
  return feet === "both" ? stepRateSpm : stepRateSpm / 2;
}
