// Roster import: look first, then commit, then undo if it was wrong.
import { type Static, Type } from "typebox";
import { Id, nullable, Problem, Warning } from "./common.ts";
import { RunnerInput } from "./runners.ts";

const RosterField = Type.Enum([
  "name",
  "initials",
  "heightM",
  "legLengthM",
  "massKg",
  "history",
  "goalSpm",
  "remote",
  "notes",
  "ignore",
]);

export const RosterCsv = Type.Object({
  csv: Type.String({ minLength: 1, maxLength: 1_000_000 }),
  columns: Type.Optional(
    Type.Record(Type.String({ maxLength: 200 }), RosterField, { description: "Header to field; guessed when absent." }),
  ),
});

export const RosterPreview = Type.Object({
  columns: Type.Array(
    Type.Object({ header: Type.String(), field: RosterField, unit: nullable(Type.String()), sample: Type.String() }),
  ),
  rows: Type.Array(
    Type.Object({
      row: Type.Integer({ description: "1-based data row." }),
      runner: nullable(RunnerInput),
      duplicateOf: nullable(Type.Object({ runnerId: nullable(Id), row: nullable(Type.Integer()) })),
      problems: Type.Array(Problem),
    }),
  ),
  problems: Type.Array(Problem),
  warnings: Type.Array(Warning),
  importable: Type.Integer(),
});
export type RosterPreview = Static<typeof RosterPreview>;

export const RosterCommit = Type.Object({
  runners: Type.Array(Type.Object({ id: Id, runner: RunnerInput }), { minItems: 1, maxItems: 500 }),
});
export const RosterCommitted = Type.Object({ added: Type.Integer(), changeId: nullable(Id) });
