// A stored runner as the input that would store it again, so that one field can be changed without losing the others.
import type { Runner, RunnerInput } from "../../api/index.ts";

export function inputOf(runner: Runner): RunnerInput {
  return {
    name: runner.name,
    initials: runner.initials,
    ...(runner.heightM === null ? {} : { heightM: runner.heightM }),
    ...(runner.legLengthM === null ? {} : { legLengthM: runner.legLengthM }),
    ...(runner.massKg === null ? {} : { massKg: runner.massKg }),
    history: [...runner.history],
    ...(runner.goalSpm === null ? {} : { goalSpm: runner.goalSpm }),
    ...(runner.raceDate === null ? {} : { raceDate: runner.raceDate }),
    remote: runner.remote,
    notes: runner.notes,
    archived: runner.archived,
  };
}
