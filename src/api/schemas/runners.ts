// A runner, and one row of the roster with what a coach scans for.
import { type Static, Type } from "typebox";
import { Id, Instant, Name, Note, nullable, PlainDate, Uncertain } from "./common.ts";

const History = Type.Enum(["bone", "achilles", "calf", "none"]);

export const RunnerInput = Type.Object({
  name: Name,
  initials: Type.Optional(Type.String({ maxLength: 6 })),
  heightM: Type.Optional(Type.Number({ minimum: 0.9, maximum: 2.5 })),
  legLengthM: Type.Optional(Type.Number({ minimum: 0.4, maximum: 1.5 })),
  massKg: Type.Optional(Type.Number({ minimum: 20, maximum: 250 })),
  history: Type.Optional(Type.Array(History, { maxItems: 4 })),
  goalSpm: Type.Optional(Type.Number({ minimum: 120, maximum: 220, description: "The coach's own goal, both feet." })),
  raceDate: Type.Optional(PlainDate),
  remote: Type.Optional(Type.Boolean({ description: "Never at the evening; sends everything." })),
  notes: Type.Optional(Note),
  archived: Type.Optional(Type.Boolean()),
});
export type RunnerInput = Static<typeof RunnerInput>;

export const Runner = Type.Object({
  id: Id,
  groupId: Id,
  name: Type.String(),
  initials: Type.String(),
  heightM: nullable(Type.Number()),
  legLengthM: nullable(Type.Number()),
  massKg: nullable(Type.Number()),
  history: Type.Array(History),
  goalSpm: nullable(Type.Number()),
  raceDate: nullable(PlainDate),
  remote: Type.Boolean(),
  notes: Type.String(),
  archived: Type.Boolean(),
  createdAt: Instant,
});
export type Runner = Static<typeof Runner>;

/** A roster row: the runner and the latest of everything, read in one query. */
export const RosterRow = Type.Object({
  runner: Runner,
  baselineSpm: nullable(Uncertain),
  baselineSpeedMps: nullable(Type.Number()),
  advice: nullable(Type.Enum(["leave-alone", "change", "refer", "measure-first"])),
  accepted: Type.Boolean({ description: "The coach accepted or changed the proposal." }),
  targetSpm: nullable(Type.Number({ description: "Where the runner is now: this stage's step rate." })),
  stageIndex: nullable(Type.Integer()),
  stageCount: nullable(Type.Integer()),
  lastCountAt: nullable(Instant),
  lastRecordingAt: nullable(Instant),
  recordingCount: Type.Integer(),
  latestPain: nullable(Type.Integer()),
  finding: nullable(Type.String({ description: "The matched-speed finding so far." })),
});
export type RosterRow = Static<typeof RosterRow>;

export const RosterSort = Type.Enum(["name", "baseline", "target", "last-recording", "created"]);
