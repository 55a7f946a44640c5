// A plan is a staircase of stages with dated sessions; a session is what engine/session says it is.
import { type Static, Type } from "typebox";
import { Id, nullable, PlainDate } from "./common.ts";

export const SessionBlock = Type.Object({
  kind: Type.Enum(["warm-up", "standing-drill", "drill", "cue-on", "cue-off", "strides", "cool-down"]),
  durationS: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 36_000 })),
  distanceM: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 200_000 })),
  stepRateSpm: Type.Optional(Type.Number({ minimum: 40, maximum: 300 })),
  endStepRateSpm: Type.Optional(Type.Number({ minimum: 40, maximum: 300 })),
  cueShare: Type.Optional(Type.Number({ minimum: 0, maximum: 1 })),
  speedMps: Type.Optional(Type.Number({ minimum: 0.3, maximum: 12 })),
  drillId: Type.Optional(Type.String({ maxLength: 60 })),
  note: Type.Optional(Type.String({ maxLength: 400 })),
});

export const Session = Type.Object({
  id: Type.String({ maxLength: 80 }),
  title: Type.String({ maxLength: 200 }),
  blocks: Type.Array(SessionBlock, { maxItems: 200 }),
});
export type Session = Static<typeof Session>;

export const PlannedSession = Type.Object({
  id: Type.String(),
  on: PlainDate,
  stageIndex: Type.Integer(),
  inPerson: Type.Boolean(),
  session: Session,
});

export const Stage = Type.Object({
  index: Type.Integer({ description: "0 for the first." }),
  stepRateSpm: Type.Number(),
  addedSpm: Type.Number({ description: "Above the baseline, both feet." }),
  startsOn: PlainDate,
  endsOn: PlainDate,
  reason: Type.String(),
});

export const Plan = Type.Object({
  kind: Type.Literal("plan"),
  startsOn: PlainDate,
  endsOn: PlainDate,
  protocolId: nullable(Type.String()),
  baselineSpm: Type.Number(),
  goalSpm: Type.Number(),
  currentStageIndex: Type.Integer(),
  stages: Type.Array(Stage),
  sessions: Type.Array(PlannedSession),
  recallChecksOn: Type.Array(PlainDate),
  reasons: Type.Array(Type.String()),
  edited: Type.Boolean({ description: "The coach changed it by hand." }),
});
export type Plan = Static<typeof Plan>;

export const NoPlan = Type.Object({ kind: Type.Literal("no-plan"), because: Type.String() });
export const PlanAnswer = Type.Union([Plan, NoPlan]);

/** Make the plan anew from the accepted proposal. */
export const PlanRequest = Type.Object({
  startsOn: Type.Optional(PlainDate),
  protocolId: Type.Optional(Type.String({ maxLength: 80 })),
  sessionsPerWeek: Type.Optional(Type.Integer({ minimum: 1, maximum: 7 })),
  firstCuedMinutes: Type.Optional(Type.Number({ minimum: 5, maximum: 90 })),
});

/** The coach's own version: stages and sessions as they should be. */
export const PlanEdit = Type.Object({
  currentStageIndex: Type.Integer({ minimum: 0, maximum: 100 }),
  stages: Type.Array(Stage, { maxItems: 100 }),
  sessions: Type.Array(PlannedSession, { maxItems: 500 }),
});

export const Protocol = Type.Object({
  id: Type.String(),
  title: Type.String(),
  summary: Type.String(),
  source: Type.String(),
});

export const PlanIdParams = Type.Object({ runnerId: Id });
