// One word and one shape while running with the beat: quicker, slower, on it; and the trap of running faster.
import { SPEED_UP_LIMIT_PERCENT, TARGET_BAND_SHARE } from "../../engine/evidence/change.ts";

export type Feedback = "quicker" | "slower" | "on-it" | "shorter";

export const FEEDBACK_WORDS: Readonly<Record<Feedback, string>> = {
  quicker: "quicker",
  slower: "slower",
  "on-it": "on it",
  shorter: "same speed, shorter steps",
};

export interface FeedbackFacts {
  /** Both feet, now. */
  readonly stepRateSpm: number;
  readonly targetSpm: number;
  readonly speedMps: number | null;
  readonly targetSpeedMps: number | null;
}

/**
 * Above the band: slower. Else, more than 3 % faster than planned: the same speed with shorter steps (rule D5 while it can
 * still be helped), whether or not the rate is in the band. Else below the band: quicker. The band is target ± 1.5 %.
 */
export function feedbackFor(facts: FeedbackFacts): Feedback {
  const { stepRateSpm, targetSpm, speedMps, targetSpeedMps } = facts;
  if (stepRateSpm > targetSpm * (1 + TARGET_BAND_SHARE.value)) return "slower";
  const creep = speedMps === null || targetSpeedMps === null ? 0 : speedMps / targetSpeedMps - 1;
  if (100 * creep > SPEED_UP_LIMIT_PERCENT.value) return "shorter";
  return stepRateSpm < targetSpm * (1 - TARGET_BAND_SHARE.value) ? "quicker" : "on-it";
}

/** A word that flickers is worse than none: a new one must hold so long before it is shown. */
const SETTLE_S = 3;

export interface Settling {
  readonly shown: Feedback | undefined;
  readonly next: Feedback | undefined;
  readonly sinceS: number;
}

export const UNSETTLED: Settling = { shown: undefined, next: undefined, sinceS: 0 };

/** The state after one more reading. The first word is shown at once; undefined (walking, no answer) clears it at once. */
export function settle(before: Settling, reading: Feedback | undefined, timeS: number): Settling {
  if (reading === undefined) return UNSETTLED;
  if (before.shown === undefined || reading === before.shown) return { shown: reading, next: undefined, sinceS: timeS };
  if (reading !== before.next) return { ...before, next: reading, sinceS: timeS };
  return timeS - before.sinceS >= SETTLE_S ? { shown: reading, next: undefined, sinceS: timeS } : before;
}
