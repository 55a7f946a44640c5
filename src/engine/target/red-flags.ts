// Signs at which a runner stops and is seen by a clinician, whatever the numbers say (rules T6 and D1).

export const redFlags = {
  "sharp-pain": "sharp pain",
  "bone-spot": "pain on one spot of bone",
  "night-pain": "pain at night",
  "rest-pain": "pain at rest",
  limp: "a limp or a changed way of running to spare something",
  swelling: "swelling",
  "worse-next-morning": "pain that is worse the next morning",
  "worsening-in-run": "pain that grows as the run goes on",
} as const;

export type RedFlag = keyof typeof redFlags;

/** "sharp pain, swelling and a limp" */
export function nameRedFlags(flags: readonly RedFlag[]): string {
  const names = flags.map((flag) => redFlags[flag]);
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}
