// The end of a programme: the group's effect and each runner's own.
import { type Static, Type } from "typebox";
import { Finding } from "./comparisons.ts";
import { Id, Instant, NotEnough, nullable, Uncertain } from "./common.ts";

const RunnerResult = Type.Object({
  runnerId: Id,
  name: Type.String(),
  finding: Finding,
  ownChangeSpm: nullable(Uncertain),
  shrunkenChangeSpm: nullable(Uncertain),
  targetChangeSpm: nullable(Type.Number()),
  beforeRunCount: Type.Integer(),
  afterRunCount: Type.Integer(),
  attendedCount: Type.Integer(),
  sessionsDone: Type.Integer(),
  /** Days with a session up to today. */
  sessionsPlanned: Type.Integer(),
  sentence: Type.String(),
});

export const ProgrammeResult = Type.Object({
  computedAt: Instant,
  groupChangeSpm: Type.Union([Uncertain, NotEnough]),
  betweenRunnersSdSpm: nullable(Type.Number()),
  runners: Type.Array(RunnerResult),
  sentence: Type.String(),
  warnings: Type.Array(Type.String()),
});
export type ProgrammeResult = Static<typeof ProgrammeResult>;
