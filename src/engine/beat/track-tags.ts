// What a track says about itself: the session's title and the runner's initials, nothing else. A file gets passed on.

export interface TrackTags {
  /** Title of the session. */
  readonly title: string;
  /** At most 4 letters, as initialsOf makes them; a whole name is refused. */
  readonly initials?: string;
}

const MOST_INITIALS = 4;
const LONGEST_TITLE = 200;

/** "Ada van Dijk" gives "AVD": the first letter of up to four words, upper case. "" when there is no letter. */
export function initialsOf(name: string): string {
  const letters = name
    .normalize("NFC")
    .split(/[\s\-‐]+/u)
    .map((word) => /\p{Letter}/u.exec(word)?.[0] ?? "")
    .filter((letter) => letter !== "");
  return letters.slice(0, MOST_INITIALS).map(upperCaseLetter).join("");
}

/** Tags without control characters and broken letters, the title cut at 200 characters. Throws RangeError when the initials are more than initials. */
export function checkedTags(tags: TrackTags): { readonly title: string; readonly initials: string } {
  const initials = tags.initials ?? "";
  if (!/^\p{Letter}{0,4}$/u.test(initials))
    throw new RangeError("checkedTags: initials must be at most 4 letters; a track carries no whole name");
  const title = Array.from(tags.title.replaceAll(/[\p{Control}\p{Surrogate}]+/gu, " ").trim())
    .slice(0, LONGEST_TITLE)
    .join("");
  return { title, initials };
}

/** A letter whose capital is several letters (ß) stays as it is. */
function upperCaseLetter(letter: string): string {
  const upper = letter.toUpperCase();
  return Array.from(upper).length === 1 ? upper : letter;
}
