// The week's triage: one line of evidence and one proposed decision per runner, pain first.
import { type Static, Type } from "typebox";
import { Reason } from "./baselines.ts";
import { Id, Instant, nullable, PlainDate } from "./common.ts";

export const DecisionKind = Type.Enum(["move-on", "stay", "ease-back", "stop-and-refer"]);
export type DecisionKind = Static<typeof DecisionKind>;

export const Decision = Type.Object({
  id: Id,
  runnerId: Id,
  weekStartsOn: PlainDate,
  decision: DecisionKind,
  proposed: nullable(DecisionKind),
  rule: nullable(Type.String()),
  overruled: Type.Boolean(),
  reason: Type.String({ description: "The coach's, when they overruled." }),
  at: Instant,
  byName: Type.String(),
});
export type Decision = Static<typeof Decision>;

export const WeekRow = Type.Object({
  runnerId: Id,
  name: Type.String(),
  initials: Type.String(),
  remote: Type.Boolean(),
  evidence: Type.String({ description: "One line in plain words." }),
  urgency: Type.Integer({ description: "0 is most urgent; rows come in this order." }),
  pain: nullable(Type.Integer()),
  sentNothing: Type.Boolean(),
  recordingCount: Type.Integer({ description: "Of this week." }),
  inBandShare: nullable(Type.Number()),
  speedChangePercent: nullable(Type.Number()),
  lateRunDropSpm: nullable(Type.Number()),
  matchedChangeSpm: nullable(Type.Number()),
  targetSpm: nullable(Type.Number()),
  stageIndex: nullable(Type.Integer()),
  stageCount: nullable(Type.Integer()),
  proposed: nullable(Type.Object({ decision: DecisionKind, rule: Type.String(), reasons: Type.Array(Reason) })),
  decided: nullable(Decision),
});
export type WeekRow = Static<typeof WeekRow>;

export const Week = Type.Object({
  weekStartsOn: PlainDate,
  weekNumber: Type.Integer({ description: "Of the programme, from 1; 0 or less before it begins." }),
  rows: Type.Array(WeekRow),
  next: nullable(Type.String()),
  total: Type.Integer(),
  undecided: Type.Integer(),
  computedAt: Instant,
});
export type Week = Static<typeof Week>;

export const WeekQuery = Type.Object({
  on: Type.Optional(PlainDate),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 200 })),
  after: Type.Optional(Type.String({ maxLength: 400 })),
});

const DecisionInput = Type.Object({
  id: Id,
  runnerId: Id,
  decision: DecisionKind,
  reason: Type.Optional(Type.String({ maxLength: 1000 })),
});

export const DecisionBatch = Type.Object({
  weekStartsOn: PlainDate,
  decisions: Type.Array(DecisionInput, { minItems: 1, maxItems: 500 }),
});
