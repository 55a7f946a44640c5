// What a coach changes in a running plan.
import { type Static, Type } from "typebox";
import { Id, nullable, PlainDate } from "./common.ts";

/** Only what is given changes; null takes a value away. */
export const CalendarChange = Type.Object({
  away: Type.Optional(Type.Array(Type.Object({ from: PlainDate, to: PlainDate }), { maxItems: 60 })),
  raceDate: Type.Optional(nullable(PlainDate)),
  groupWeekday: Type.Optional(nullable(Type.Integer({ minimum: 1, maximum: 7 }))),
  sessionsPerWeek: Type.Optional(Type.Integer({ minimum: 1, maximum: 6 })),
  consolidationWeeks: Type.Optional(Type.Integer({ minimum: 0, maximum: 12 })),
  templateId: Type.Optional(Type.String({ maxLength: 60 })),
  groupTemplateId: Type.Optional(nullable(Type.String({ maxLength: 60 }))),
});
export type CalendarChange = Static<typeof CalendarChange>;

export const SessionEdit = Type.Object({
  moveTo: Type.Optional(PlainDate),
  skipped: Type.Optional(Type.Boolean({ description: "Taken out, not caught up." })),
  mainMinutes: Type.Optional(Type.Number({ minimum: 0, maximum: 240 })),
  cueShare: Type.Optional(Type.Number({ minimum: 0, maximum: 1 })),
  templateId: Type.Optional(Type.String({ maxLength: 60 })),
  reset: Type.Optional(Type.Boolean({ description: "Back to how it was laid." })),
});
export type SessionEdit = Static<typeof SessionEdit>;

export const RungEdit = Type.Object({ stepRateSpm: Type.Number({ minimum: 100, maximum: 260 }) });

export const PlanSessionParams = Type.Object({ runnerId: Id, on: PlainDate });
export const RungParams = Type.Object({ runnerId: Id, rung: Type.String({ pattern: "^[0-9]{1,2}$" }) });

export const PlansChanged = Type.Object({
  changed: Type.Array(Id),
  skipped: Type.Array(Type.Object({ runnerId: Id, name: Type.String(), because: Type.String() })),
  changeId: nullable(Id),
});
