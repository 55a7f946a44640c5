// The evening's sheet as data: the setup, and one round of entries for each time the clock was run.
import type { CountSetup, Entry } from "./entry-model.ts";

export interface Sheet {
  readonly setup: CountSetup;
  /** One for each time the clock was run; the last is being typed. */
  readonly rounds: readonly Readonly<Record<string, Entry>>[];
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
  return { setup: FIRST_SETUP, rounds: [{}] };
}

export function changeSheet(sheet: Sheet, action: SheetAction): Sheet {
  const last = sheet.rounds.at(-1) ?? {};
  const replaceLast = (runnerId: string, entry: Entry): Sheet => ({
    ...sheet,
    rounds: [...sheet.rounds.slice(0, -1), { ...last, [runnerId]: entry }],
  });
  switch (action.kind) {
    case "setup":
      return { ...sheet, setup: action.setup };
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
      return Object.keys(last).length === 0 ? sheet : { ...sheet, rounds: [...sheet.rounds, {}] };
  }
}
