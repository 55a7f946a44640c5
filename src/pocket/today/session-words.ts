// A session in plain words for a phone: few rows, the same rows in a row told once.
import type { Session, SessionBlock } from "../../engine/session/session.ts";
import type { RunnerToday } from "../../api/index.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";

export type Planned = NonNullable<RunnerToday["session"]>;

/** Today's, or the one with this id among those that the phone has. */
export function sessionOf(today: RunnerToday, sessionId: string | undefined): Planned | undefined {
  const all = [...(today.session === null ? [] : [today.session]), ...today.upcoming];
  return sessionId === undefined ? (today.session ?? undefined) : all.find((planned) => planned.id === sessionId);
}

/** As the engine reads it. */
export function engineSession(planned: Planned): Session {
  return planned.session as Session;
}

/** The rate that the session's beat has: the first block that sounds. */
export function beatRateOf(session: Session): number | undefined {
  return session.blocks.find((block) => block.stepRateSpm !== undefined && block.kind !== "cue-off")?.stepRateSpm;
}

/** Seconds; a distance needs a speed, and counts nothing without one. */
export function blockLengthS(block: SessionBlock): number {
  if (block.durationS !== undefined) return block.durationS;
  return block.distanceM !== undefined && block.speedMps !== undefined ? block.distanceM / block.speedMps : 0;
}

export function sessionLengthS(session: Session): number {
  return session.blocks.reduce((sum, block) => sum + blockLengthS(block), 0);
}

/** "about 42 minutes, 11 of them with the beat" */
export function lengthWords(planned: Planned): string {
  const minutes = Math.round(sessionLengthS(engineSession(planned)) / SECONDS_PER_MINUTE);
  const cued = Math.round(planned.cuedMinutes);
  if (planned.kind === "recall-check") return `about ${minutes} minutes, no beat`;
  return `about ${minutes} minutes, ${cued} of them with the beat`;
}

/** Runs of alternating beat-on and beat-off blocks told once, on a phone's few lines. */
export interface PhoneRow {
  readonly what: string;
  readonly length: string;
  readonly times: number;
  readonly sounds: boolean;
}

const words: Readonly<Record<SessionBlock["kind"], string>> = {
  "warm-up": "Warm up, easy",
  "standing-drill": "On the spot, with the beat",
  drill: "Drill",
  "cue-on": "Beat on",
  "cue-off": "Beat off, keep the steps",
  strides: "Strides",
  "cool-down": "Easy, or walk",
};

export function blockWords(kind: SessionBlock["kind"]): string {
  return words[kind];
}

/** Lengths that differ by a second or so are one length to a runner. */
export function phoneRows(session: Session): readonly (readonly PhoneRow[])[] {
  const rows = session.blocks.map((block): PhoneRow => {
    const lengthS = blockLengthS(block);
    return {
      what: words[block.kind],
      length: lengthS === 0 ? "" : roughLength(lengthS),
      times: 1,
      sounds: block.stepRateSpm !== undefined && block.kind !== "cue-off" && block.cueShare !== 0,
    };
  });
  const same = (a: PhoneRow | undefined, b: PhoneRow | undefined): boolean =>
    a !== undefined && b !== undefined && a.what === b.what && a.length === b.length;
  const groups: PhoneRow[][] = [];
  for (let index = 0; index < rows.length; ) {
    const one = rows[index];
    const two = rows[index + 1];
    let times = 1;
    while (two !== undefined && same(one, rows[index + 2 * times]) && same(two, rows[index + 2 * times + 1]))
      times += 1;
    if (one === undefined) break;
    if (times > 1 && two !== undefined) {
      groups.push([
        { ...one, times },
        { ...two, times },
      ]);
      index += 2 * times;
    } else {
      groups.push([one]);
      index += 1;
    }
  }
  return groups;
}

/** To a quarter of a minute above two minutes. */
function roughLength(lengthS: number): string {
  if (lengthS < SECONDS_PER_MINUTE) return `${Math.round(lengthS)} s`;
  if (lengthS < 2 * SECONDS_PER_MINUTE) return `${Math.round(lengthS / 5) * 5} s`;
  const quarters = Math.round(lengthS / 15);
  const fraction = ["", "¼", "½", "¾"][quarters % 4] ?? "";
  return `${Math.floor(quarters / 4)}${fraction} min`;
}
