import type { RunnerInput } from "../../api/index.ts";
import { initialsOf } from "../../engine/beat/track-tags.ts";
import type { RunnerRow } from "../../store/index.ts";
import { nameKey } from "./roster-csv.ts";

export function runnerRow(id: string, groupId: string, input: RunnerInput, createdAt: string): RunnerRow {
  return {
    id,
    groupId,
    name: input.name,
    nameKey: nameKey(input.name),
    initials: input.initials ?? initialsOf(input.name),
    heightM: input.heightM ?? null,
    legLengthM: input.legLengthM ?? null,
    massKg: input.massKg ?? null,
    historyJson: JSON.stringify([...new Set(input.history ?? [])].sort()),
    goalSpm: input.goalSpm ?? null,
    raceDate: input.raceDate ?? null,
    remote: input.remote === true ? 1 : 0,
    notes: input.notes ?? "",
    archived: input.archived === true ? 1 : 0,
    createdAt,
  };
}
