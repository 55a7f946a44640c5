// The usual cautions, shown wherever advice appears. Spondee advises coaches; it does not treat.
import { HEARING_CAUTION } from "../evidence/beats.ts";

export const standardCautions: readonly string[] = [
  "Stop at pain. Pain that is sharp, on one spot of bone, at night, at rest, with swelling or a limp, or worse the next morning is for a doctor or physiotherapist, not for a plan.",
  "This is coaching advice and does not replace medical care, licensed practice or local rules. Someone new to running, or with a heart, lung or joint condition, clears it with a clinician first.",
  "Quicker steps feel harder at first and ask more of calf and Achilles tendon.",
];

/** One wording for every card, message and track. */
export const listeningCaution: string = HEARING_CAUTION.value;
