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

/** What the outbox was given of a kept sheet, so that a cleared entry is taken back after a reload too. */
function sentOf(sheet: Sheet): Map<string, string> {
  return new Map(
    sheet.rounds.flatMap((round) =>
      Object.values(round.entries).flatMap((entry): (readonly [string, string])[] => {
        const count = toCountInput(entry, round.setup);
        return count === undefined ? [] : [[entry.id, JSON.stringify(count)]];
      }),
    ),
  );
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
  const [sent] = useState(() => sentOf(sheet));
  const { setup, entries } = currentRound(sheet);
  const keepEntry = (runnerId: string, entry: Entry | undefined): void => {
    if (!entry) return;
    const count = toCountInput(entry, setup);
    const content = JSON.stringify(count ?? null);
    const before = sent.get(entry.id);
    if (before === content) return;
    sent.set(entry.id, content);
    // Nothing was sent of an entry that only has its lap time yet, so there is nothing to take back.
    if (count === undefined && before === undefined) return;
    if (count) void post(entry.id, "count", { params: { runnerId, countId: entry.id }, body: count });
    else if (judge(entry, setup).kind === "empty") void removeCount(runnerId, entry.id);
  };
  return {
    sheet,
    setUp: (setup) => act({ kind: "setup", setup }),
    type: (runnerId, text) => act({ kind: "type", runnerId, text, id: makeId(), at: nowInstant() }),
    typeLap: (runnerId, text) => act({ kind: "lap", runnerId, text, id: makeId(), at: nowInstant() }),
    answer: (runnerId, answer) => {
      act({ kind: "answer", runnerId, ...answer });
      const old = entries[runnerId];
      if (old) keepEntry(runnerId, { ...old, ...answer });
    },
    capture: (runnerId, text) => {
      const id = makeId();
      const at = nowInstant();
      act({ kind: "type", runnerId, text, id, at });
      keepEntry(runnerId, currentRound(changeSheet(sheet, { kind: "type", runnerId, text, id, at })).entries[runnerId]);
    },
    nextRound: () => act({ kind: "next-round" }),
    keep: (runnerId) => keepEntry(runnerId, entries[runnerId]),
  };
}
