// The tables in an order in which each comes after those it refers to, and how the rows of one person are found.
import type { TableName } from "./database.ts";

export const tablesInOrder = [
  "account",
  "signInSession",
  "oneTimeCode",
  "coachGroup",
  "member",
  "runner",
  "footCount",
  "recording",
  "recordingChunk",
  "analysis",
  "proposalDecision",
  "plan",
  "decision",
  "pain",
  "formNote",
  "videoMeasure",
  "report",
  "attendance",
  "runnerLink",
  "consent",
  "change",
  "changeRow",
  "audit",
  "job",
  "runnerState",
  "installation",
] as const satisfies readonly TableName[];

/** Tables whose rows belong to one runner through runnerId, besides runner itself and what hangs on a recording. */
export const tablesOfRunner = [
  "footCount",
  "recording",
  "proposalDecision",
  "plan",
  "decision",
  "pain",
  "formNote",
  "videoMeasure",
  "report",
  "attendance",
  "runnerLink",
  "consent",
  "runnerState",
] as const satisfies readonly TableName[];

/** Tables whose rows are written through a tracked change, with a text id each, and can be undone. */
export const trackedTables = [
  "coachGroup",
  "member",
  "runner",
  "footCount",
  "recording",
  "proposalDecision",
  "plan",
  "decision",
  "pain",
  "formNote",
  "videoMeasure",
  "attendance",
] as const satisfies readonly TableName[];
export type TrackedTable = (typeof trackedTables)[number];
