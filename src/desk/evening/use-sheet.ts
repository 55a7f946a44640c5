// The evening's entries on this device: survive a reload, go to the outbox as soon as they are fine.
import { useEffect, useReducer, useState } from "react";
import { makeId, nowInstant } from "../data/client.ts";
import { post, removeCount } from "../data/outbox.ts";
import { type CountSetup, type Entry, judge, toCountInput } from "./entry-model.ts";
import { changeSheet, currentRound, emptySheet, FIRST_SETUP, type Sheet } from "./sheet-model.ts";

function keyOf(groupId: string, on: string): string {
  return `spondee-evening ${groupId} ${on}`;
}

function readKept(groupId: string, on: string): Sheet {
  try {
    const kept = localStorage.getItem(keyOf(groupId, on));
    if (kept !== null) {
      const sheet = JSON.parse(kept) as Partial<Sheet>;
      const rounds = (sheet.rounds ?? []).filter((round) => typeof round.entries === "object");
      if (rounds.length > 0)
        return { rounds: rounds.map((round) => ({ ...round, setup: { ...FIRST_SETUP, ...round.setup } })) };
    }
  } catch {
    // Unreadable or forbidden storage: what was sent is on the server; start a clean sheet.
  }
  return emptySheet();
}

/** What the outbox was given, by entry: so that a reload neither forgets what was still being typed nor sends all again. */
function readGiven(groupId: string, on: string): Map<string, string> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(`${keyOf(groupId, on)} given`) ?? "{}");
    return new Map(Object.entries(kept as Record<string, string>));
  } catch {
    return new Map();
  }
}

function keepGiven(groupId: string, on: string, given: ReadonlyMap<string, string>): void {
  try {
    localStorage.setItem(`${keyOf(groupId, on)} given`, JSON.stringify(Object.fromEntries(given)));
  } catch {
    // Without it a reload sends the entries once more; they are stored once.
  }
}

export interface SheetHandle {
  readonly sheet: Sheet;
  readonly setUp: (setup: CountSetup) => void;
  readonly type: (runnerId: string, text: string) => void;
  readonly typeLap: (runnerId: string, text: string) => void;
  answer(runnerId: string, answer: { feet?: "one" | "both"; confirmed?: boolean }): void;
  readonly nextRound: () => void;
  /** Types and keeps in one go: a stopwatch tap. */
  readonly capture: (runnerId: string, text: string) => void;
  /** Was this entry, as it stands in the current round, handed to the outbox? Not while it is being typed. */
  readonly isGiven: (entry: Entry) => boolean;
  /** Sends one runner's entry as it stands; called when the coach moves on. */
  readonly keep: (runnerId: string) => void;
}

export function useSheet(groupId: string, on: string): SheetHandle {
  const [sheet, act] = useReducer(changeSheet, undefined, () => readKept(groupId, on));
  useEffect(() => {
    try {
      localStorage.setItem(keyOf(groupId, on), JSON.stringify(sheet));
    } catch {
      // Storage is full or forbidden; entries still go to the outbox one by one.
    }
  }, [groupId, on, sheet]);
  const [given] = useState(() => readGiven(groupId, on));
  const { setup, entries } = currentRound(sheet);
  const keepEntry = (runnerId: string, entry: Entry | undefined, setup: CountSetup): void => {
    if (!entry) return;
    const count = toCountInput(entry, setup);
    const content = JSON.stringify(count ?? null);
    const before = given.get(entry.id);
    if (before === content) return;
    // Nothing was sent of an entry that only has its lap time yet, so there is nothing to take back.
    if (count === undefined && before === undefined) return;
    const noted = (): void => {
      given.set(entry.id, content);
      keepGiven(groupId, on, given);
    };
    if (count) void post(entry.id, "count", { params: { runnerId, countId: entry.id }, body: count }).then(noted);
    else if (judge(entry, setup).kind === "empty") void removeCount(runnerId, entry.id).then(noted);
  };
  // What was typed when the page went away, without leaving its field.
  useEffect(() => {
    for (const round of sheet.rounds)
      for (const [runnerId, entry] of Object.entries(round.entries)) keepEntry(runnerId, entry, round.setup);
    // oxlint-disable-next-line react-hooks/exhaustive-deps -- once, for the sheet as it was found
  }, []);
  return {
    sheet,
    setUp: (setup) => act({ kind: "setup", setup }),
    type: (runnerId, text) => act({ kind: "type", runnerId, text, id: makeId(), at: nowInstant() }),
    typeLap: (runnerId, text) => act({ kind: "lap", runnerId, text, id: makeId(), at: nowInstant() }),
    answer: (runnerId, answer) => {
      act({ kind: "answer", runnerId, ...answer });
      const old = entries[runnerId];
      if (old) keepEntry(runnerId, { ...old, ...answer }, setup);
    },
    capture: (runnerId, text) => {
      const id = makeId();
      const at = nowInstant();
      act({ kind: "type", runnerId, text, id, at });
      const { entries: after } = currentRound(changeSheet(sheet, { kind: "type", runnerId, text, id, at }));
      keepEntry(runnerId, after[runnerId], setup);
    },
    nextRound: () => act({ kind: "next-round" }),
    isGiven: (entry) => given.get(entry.id) === JSON.stringify(toCountInput(entry, setup) ?? null),
    keep: (runnerId) => keepEntry(runnerId, entries[runnerId], setup),
  };
}
