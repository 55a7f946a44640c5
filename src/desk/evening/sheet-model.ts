// The evening's sheet as data: the setup, and one round of entries for each time the clock was run.
import type { CountSetup, Entry } from "./entry-model.ts";

/** What was counted in one run of the clock, and how: a later change of the clock must not change what these numbers mean. */
export interface Round {
  readonly setup: CountSetup;
  readonly entries: Readonly<Record<string, Entry>>;
}

export interface Sheet {
  /** At least one; the last is being typed. */
  readonly rounds: readonly Round[];
}

export function currentRound(sheet: Sheet): Round {
  return sheet.rounds.at(-1) ?? { setup: FIRST_SETUP, entries: {} };
}

export type SheetAction =
  | { readonly kind: "setup"; readonly setup: CountSetup }
  | {
      readonly kind: "type";
      readonly runnerId: string;
      readonly text: string;
      readonly id: string;
      readonly at: string;
    }
  | { readonly kind: "lap"; readonly runnerId: string; readonly text: string; readonly id: string; readonly at: string }
  | { readonly kind: "answer"; readonly runnerId: string; readonly feet?: "one" | "both"; readonly confirmed?: boolean }
  | { readonly kind: "next-round" };

export const FIRST_SETUP: CountSetup = {
  way: "contacts-in-time",
  seconds: 60,
  contacts: 50,
  feet: "one",
  surface: "outdoor",
  cue: "none",
  purpose: "baseline",
};

export function emptySheet(): Sheet {
  return { rounds: [{ setup: FIRST_SETUP, entries: {} }] };
}

export function changeSheet(sheet: Sheet, action: SheetAction): Sheet {
  const round = currentRound(sheet);
  const last = round.entries;
  const withLast = (changed: Round): Sheet => ({ rounds: [...sheet.rounds.slice(0, -1), changed] });
  const replaceLast = (runnerId: string, entry: Entry): Sheet =>
    withLast({ ...round, entries: { ...last, [runnerId]: entry } });
  switch (action.kind) {
    case "setup":
      return hasNumbers(round) && countsOtherwise(round.setup, action.setup)
        ? { rounds: [...sheet.rounds, { setup: action.setup, entries: {} }] }
        : withLast({ ...round, setup: action.setup });
    case "type": {
      const old = last[action.runnerId];
      // New digits are a new claim: what was confirmed about the old ones no longer holds.
      return replaceLast(action.runnerId, {
        id: old?.id ?? action.id,
        measuredAt: old?.measuredAt ?? action.at,
        lapText: old?.lapText ?? "",
        text: action.text,
        confirmed: false,
      });
    }
    case "lap": {
      const old = last[action.runnerId];
      return replaceLast(action.runnerId, {
        ...(old ?? { id: action.id, measuredAt: action.at, text: "", confirmed: false }),
        lapText: action.text,
      });
    }
    case "answer": {
      const old = last[action.runnerId];
      if (!old) return sheet;
      return replaceLast(action.runnerId, {
        ...old,
        ...(action.feet === undefined ? {} : { feet: action.feet }),
        ...(action.confirmed === undefined ? {} : { confirmed: action.confirmed }),
      });
    }
    case "next-round":
      // An empty round is not worth keeping.
      return hasNumbers(round) ? { rounds: [...sheet.rounds, { setup: round.setup, entries: {} }] } : sheet;
  }
}

export function hasNumbers(round: Round): boolean {
  return Object.values(round.entries).some((entry) => entry.text.trim() !== "");
}

/** Would the numbers of a round mean something else under the other setup? */
function countsOtherwise(a: CountSetup, b: CountSetup): boolean {
  return a.way !== b.way || a.seconds !== b.seconds || a.contacts !== b.contacts || a.feet !== b.feet;
}
