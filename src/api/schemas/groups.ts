// A group: one programme with its dates and its evening.
import { type Static, Type } from "typebox";
import { Id, Instant, Name, Note, nullable, PlainDate } from "./common.ts";

const Weekday = Type.Integer({ minimum: 1, maximum: 7, description: "ISO 8601: Monday 1 to Sunday 7." });

export const GroupInput = Type.Object({
  name: Name,
  startsOn: PlainDate,
  weeks: Type.Integer({ minimum: 1, maximum: 52 }),
  eveningWeekday: Weekday,
  timeZone: Type.Optional(Type.String({ maxLength: 60, description: "IANA name; the coach's own when absent." })),
  holidays: Type.Optional(Type.Array(PlainDate, { maxItems: 60 })),
  raceDate: Type.Optional(PlainDate),
  note: Type.Optional(Note),
  archived: Type.Optional(Type.Boolean()),
});
export type GroupInput = Static<typeof GroupInput>;

export const Group = Type.Object({
  id: Id,
  name: Type.String(),
  startsOn: PlainDate,
  weeks: Type.Integer(),
  eveningWeekday: Weekday,
  timeZone: Type.String(),
  holidays: Type.Array(PlainDate),
  raceDate: nullable(PlainDate),
  note: Type.String(),
  archived: Type.Boolean(),
  invented: Type.Boolean({ description: "The demo group: made up, removable in one call." }),
  createdAt: Instant,
  runnerCount: Type.Integer(),
  role: Type.Enum(["coach", "assistant"], { description: "What the signed-in person is in this group." }),
});
export type Group = Static<typeof Group>;
