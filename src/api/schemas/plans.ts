// A plan is a staircase of stages with dated sessions; a session is what engine/session says it is.
import { type Static, Type } from "typebox";
import { Reason } from "./baselines.ts";
import { nullable, PlainDate } from "./common.ts";

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
  id: Type.String({ description: "Unique in the plan." }),
  on: PlainDate,
  stageIndex: nullable(Type.Integer({ description: "null for a recall check after the programme." })),
  kind: Type.Enum(["cued", "recall-check"]),
  inPerson: Type.Boolean(),
  mainMinutes: Type.Number(),
  cuedMinutes: Type.Number(),
  cueShare: Type.Number({ description: "Share of the main part with the beat on, 0 to 1." }),
  firstOfStage: Type.Boolean(),
  easing: Type.Boolean({ description: "Shortened for a race." }),
  editedFrom: nullable(Type.String({ description: "Changed by the coach; the date it was laid on." })),
  session: Session,
});

const Stage = Type.Object({
  index: Type.Integer({ description: "Place in the plan, 0 for the first." }),
  rung: Type.Integer(),
  kind: Type.Enum(["step-up", "repeat", "step-back", "race-hold", "consolidation"]),
  stepRateSpm: Type.Number(),
  addedSpm: Type.Number({ description: "Above the baseline, both feet." }),
  startsOn: PlainDate,
  endsOn: PlainDate,
  loadFrozenUntil: nullable(PlainDate),
});

export const Plan = Type.Object({
  kind: Type.Literal("plan"),
  status: Type.Enum(["running", "stopped"]),
  startsOn: PlainDate,
  endsOn: PlainDate,
  protocolId: nullable(Type.String()),
  baselineSpm: Type.Number(),
  goalSpm: Type.Number(),
  capSpm: Type.Number(),
  speedMps: nullable(Type.Number()),
  speedExponent: Type.Number({ description: "Growth of the target with speed (T7)." }),
  rungsSpm: Type.Array(Type.Number()),
  currentStageIndex: Type.Integer({ description: "The stage of today." }),
  stages: Type.Array(Stage),
  sessions: Type.Array(PlannedSession),
  recallChecks: Type.Array(PlannedSession),
  missedWeeks: Type.Array(PlainDate),
  skippedOn: Type.Array(PlainDate, { description: "Days of sessions that the coach took out." }),
  away: Type.Array(Type.Object({ from: PlainDate, to: PlainDate }), { description: "The runner's own away weeks." }),
  raceDate: nullable(PlainDate),
  groupWeekday: nullable(Type.Integer()),
  sessionsPerWeek: Type.Integer(),
  consolidationWeeks: Type.Integer(),
  templateId: Type.String(),
  groupTemplateId: nullable(Type.String()),
  totalCuedMinutes: Type.Number(),
  reasons: Type.Array(Reason),
  cautions: Type.Array(Type.String()),
});
export type Plan = Static<typeof Plan>;

const NoPlan = Type.Object({ kind: Type.Literal("no-plan"), because: Type.String() });
export const PlanAnswer = Type.Union([Plan, NoPlan]);
export type PlanAnswer = Static<typeof PlanAnswer>;

/** How the beat goes away over the sessions; over the last half when absent. */
const CueSchedule = Type.Union([
  Type.Object({ kind: Type.Literal("constant"), share: Type.Number({ minimum: 0, maximum: 1 }) }),
  Type.Object({
    kind: Type.Literal("faded"),
    fullShare: Type.Number({ minimum: 0, maximum: 1, description: "Share of the sessions before the beat fades." }),
    tailShares: Type.Array(Type.Number({ minimum: 0, maximum: 1 }), { minItems: 1, maxItems: 12 }),
  }),
]);

/** Make the plan anew from the accepted proposal; what is absent keeps its default. */
export const PlanRequest = Type.Object({
  startsOn: Type.Optional(PlainDate),
  protocolId: Type.Optional(Type.String({ maxLength: 80 })),
  sessionsPerWeek: Type.Optional(Type.Integer({ minimum: 1, maximum: 6 })),
  minutesStart: Type.Optional(Type.Number({ minimum: 5, maximum: 90 })),
  minutesEnd: Type.Optional(Type.Number({ minimum: 5, maximum: 90 })),
  consolidationWeeks: Type.Optional(Type.Integer({ minimum: 0, maximum: 26 })),
  away: Type.Optional(Type.Array(Type.Object({ from: PlainDate, to: PlainDate }), { maxItems: 60 })),
  raceDate: Type.Optional(nullable(PlainDate)),
  groupWeekday: Type.Optional(nullable(Type.Integer({ minimum: 1, maximum: 7 }))),
  cueSchedule: Type.Optional(CueSchedule),
  templateId: Type.Optional(Type.String({ maxLength: 60 })),
  groupTemplateId: Type.Optional(Type.String({ maxLength: 60 })),
});
export type PlanRequest = Static<typeof PlanRequest>;

export const Protocol = Type.Object({
  id: Type.String(),
  title: Type.String(),
  summary: Type.String(),
  source: Type.String(),
});
