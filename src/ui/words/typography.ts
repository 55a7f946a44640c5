// Sentences that come from elsewhere, set as print sets them.

/** Straight apostrophes and double quotes of a sentence become the curved ones; feet and inches ("5'9\"") stay. */
export function curved(text: string): string {
  return text.replace(/(\p{L})'(?=\p{L}|\s|$)/gu, "$1’").replace(/(^|[\s(:])"([^"\n]*)"/gu, "$1“$2”");
}
