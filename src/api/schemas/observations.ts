// What a coach or a runner saw or felt: pain, form at a glance, attendance, frames of a slow-motion clip.
import { type Static, Type } from "typebox";
import { Id, Instant, Note, nullable, PainScore, PlainDate } from "./common.ts";

const PainSign = Type.Enum([
  "sharp-pain",
  "bone-spot",
  "night-pain",
  "rest-pain",
  "limp",
  "swelling",
  "worse-next-morning",
  "worsening-in-run",
]);

export const PainInput = Type.Object({
  score: PainScore,
  place: Type.Optional(Type.String({ maxLength: 120 })),
  signs: Type.Optional(Type.Array(PainSign, { maxItems: 8 })),
  at: Instant,
  note: Type.Optional(Note),
});
export const Pain = Type.Object({
  id: Id,
  runnerId: Id,
  score: PainScore,
  place: Type.String(),
  signs: Type.Array(PainSign),
  at: Instant,
  note: Type.String(),
  by: Type.Enum(["coach", "runner"]),
});
export type Pain = Static<typeof Pain>;

const FormSign = Type.Enum(["posture", "shoulders", "arm-swing", "over-stride", "loud-landing"]);
export const FormNoteInput = Type.Object({
  at: Instant,
  when: Type.Enum(["early", "late"], { description: "In the run." }),
  signs: Type.Array(FormSign, { maxItems: 5 }),
  note: Type.Optional(Note),
});
export const FormNote = Type.Object({
  id: Id,
  runnerId: Id,
  at: Instant,
  when: Type.Enum(["early", "late"]),
  signs: Type.Array(FormSign),
  note: Type.String(),
});
export type FormNote = Static<typeof FormNote>;

const Presence = Type.Enum(["present", "absent", "excused"]);
export const AttendanceInput = Type.Object({
  marks: Type.Array(Type.Object({ runnerId: Id, presence: Presence }), { minItems: 1, maxItems: 500 }),
});
export const Attendance = Type.Object({
  on: PlainDate,
  marks: Type.Array(Type.Object({ runnerId: Id, presence: Presence })),
});

/** Marked by eye in the browser; the clip itself never leaves the coach's machine. */
export const VideoMeasureInput = Type.Object({
  at: Instant,
  phase: Type.Enum(["before", "during", "after"]),
  frameRateHz: Type.Number({ minimum: 10, maximum: 2000 }),
  contactFrames: Type.Array(Type.Number({ minimum: 0 }), { maxItems: 200 }),
  toeOffFrames: Type.Array(Type.Number({ minimum: 0 }), { maxItems: 200 }),
  speedMps: Type.Optional(Type.Number({ minimum: 0.3, maximum: 12 })),
  shankAngleRad: Type.Optional(Type.Number({ minimum: -1.6, maximum: 1.6 })),
  footAheadOfHipM: Type.Optional(Type.Number({ minimum: -1, maximum: 1.5 })),
  note: Type.Optional(Note),
});
export const VideoMeasure = Type.Object({
  id: Id,
  runnerId: Id,
  at: Instant,
  phase: Type.Enum(["before", "during", "after"]),
  frameRateHz: Type.Number(),
  contactFrames: Type.Array(Type.Number()),
  toeOffFrames: Type.Array(Type.Number()),
  speedMps: nullable(Type.Number()),
  shankAngleRad: nullable(Type.Number()),
  footAheadOfHipM: nullable(Type.Number()),
  note: Type.String(),
});
export type VideoMeasure = Static<typeof VideoMeasure>;

/** After a run, in two taps. */
export const ReportInput = Type.Object({
  at: Instant,
  sessionId: Type.Optional(Type.String({ maxLength: 80 })),
  recordingId: Type.Optional(Id),
  effortRating: Type.Optional(Type.Integer({ minimum: 0, maximum: 10 })),
  done: Type.Optional(Type.Boolean()),
  note: Type.Optional(Note),
});
export const Report = Type.Object({
  id: Id,
  runnerId: Id,
  at: Instant,
  sessionId: nullable(Type.String()),
  recordingId: nullable(Id),
  effortRating: nullable(Type.Integer()),
  done: Type.Boolean(),
  note: Type.String(),
});
export type Report = Static<typeof Report>;
