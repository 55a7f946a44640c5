// Recordings: the file as it came, what was read out of it, and the coach's labels on it.
import { type Static, Type } from "typebox";
import { Id, Instant, nullable, Note, PageQuery, Problem, Surface, Uncertain, Warning } from "./common.ts";

const Phase = Type.Enum(["before", "during", "after", "unsorted"]);

const CueBlock = Type.Object({
  startS: Type.Number({ minimum: 0 }),
  endS: Type.Number({ exclusiveMinimum: 0 }),
  cue: Type.Enum(["on", "off"]),
  targetSpm: Type.Optional(Type.Number({ minimum: 40, maximum: 300 })),
});

const Spread = Type.Object({
  mean: Type.Number(),
  standardError: Type.Number(),
  p05: Type.Number(),
  p95: Type.Number(),
});

export const RecordingSummary = Type.Object({
  kind: Type.Enum(["gpx", "csv-track", "motion", "sound"]),
  durationS: Type.Number(),
  movingS: Type.Number(),
  distanceM: nullable(Type.Number()),
  stepRateSpm: nullable(Spread),
  speedMps: nullable(Spread),
  stepLengthM: nullable(Spread),
  feetCounted: Type.Enum(["one", "both", "unknown"]),
  meanQuality: Type.Number({ description: "0 useless, 1 sure." }),
  lateRunDropSpm: nullable(Uncertain),
});
export type RecordingSummary = Static<typeof RecordingSummary>;

export const Recording = Type.Object({
  id: Id,
  runnerId: Id,
  fileName: Type.String(),
  byteCount: Type.Integer(),
  contentSha256: Type.String(),
  phase: Phase,
  surface: Surface,
  startedAt: nullable(Instant),
  uploadedAt: Instant,
  by: Type.Enum(["coach", "runner"]),
  excluded: Type.Boolean(),
  excludedReason: Type.String(),
  trimStartS: Type.Number(),
  trimEndS: nullable(Type.Number({ description: "Seconds from the start; null is the end of the file." })),
  cueBlocks: Type.Array(CueBlock),
  effortRating: nullable(Type.Integer()),
  note: Type.String(),
  state: Type.Enum(["waiting", "analysed", "unreadable"]),
  problems: Type.Array(Problem),
  warnings: Type.Array(Warning),
  summary: nullable(RecordingSummary),
  engineVersion: nullable(Type.String()),
});
export type Recording = Static<typeof Recording>;

/** Numbers over time for the traces; NaN travels as null. */
export const Trace = Type.Object({
  timeS: Type.Array(Type.Number()),
  stepRateSpm: Type.Array(nullable(Type.Number())),
  speedMps: Type.Array(nullable(Type.Number())),
  slope: Type.Array(nullable(Type.Number())),
  stepLengthM: Type.Array(nullable(Type.Number())),
  heartRateBpm: Type.Array(nullable(Type.Number())),
});

const RateWindow = Type.Object({
  startS: Type.Number(),
  endS: Type.Number(),
  stepRateSpm: nullable(Type.Number()),
  speedMps: nullable(Type.Number()),
  slope: nullable(Type.Number()),
  heartRateBpm: nullable(Type.Number()),
  quality: Type.Number(),
  state: Type.Enum(["running", "walking", "standing", "unknown"]),
  cue: nullable(Type.Enum(["on", "off"])),
  reason: Type.Optional(Type.String()),
});

export const RecordingDetail = Type.Object({
  recording: Recording,
  windows: Type.Array(RateWindow),
  trace: Trace,
});

export const RecordingEdit = Type.Object({
  phase: Phase,
  surface: Surface,
  excluded: Type.Boolean(),
  excludedReason: Type.Optional(Type.String({ maxLength: 400 })),
  trimStartS: Type.Optional(Type.Number({ minimum: 0 })),
  trimEndS: Type.Optional(nullable(Type.Number({ exclusiveMinimum: 0 }))),
  cueBlocks: Type.Optional(Type.Array(CueBlock, { maxItems: 400 })),
  effortRating: Type.Optional(nullable(Type.Integer({ minimum: 0, maximum: 10 }))),
  note: Type.Optional(Note),
});
export type RecordingEdit = Static<typeof RecordingEdit>;

/** The body is the file itself, any content type; everything else travels in the address. */
export const UploadQuery = Type.Object({
  fileName: Type.String({ minLength: 1, maxLength: 255 }),
  phase: Type.Optional(Phase),
  surface: Type.Optional(Surface),
  effortRating: Type.Optional(Type.Integer({ minimum: 0, maximum: 10 })),
  sha256: Type.Optional(Type.String({ pattern: "^[0-9a-f]{64}$", description: "Checked against what arrived." })),
});

export const UploadOutcome = Type.Object({
  outcome: Type.Enum(["stored", "duplicate", "already-stored"], {
    description: "duplicate: the same bytes are there under another id (given back); already-stored: this id again.",
  }),
  recording: Recording,
});
export type UploadOutcome = Static<typeof UploadOutcome>;

export const RecordingQuery = Type.Object({
  ...PageQuery,
  phase: Type.Optional(Phase),
  withExcluded: Type.Optional(Type.Boolean()),
});
