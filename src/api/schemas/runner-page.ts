// What the runner's phone page reads and sends, with the link's token as a bearer token.
import { type Static, Type } from "typebox";
import { Baseline, PaceRow } from "./baselines.ts";
import { Id, Instant, nullable, PlainDate } from "./common.ts";
import { PlannedSession } from "./plans.ts";
import { Settings } from "./settings.ts";

export const ConsentInput = Type.Object({
  given: Type.Boolean(),
  textVersion: Type.String({ maxLength: 40 }),
  at: Instant,
  location: Type.Optional(Type.Boolean({ description: "Positions may be sent too." })),
});
export const Consent = Type.Object({
  given: Type.Boolean(),
  textVersion: Type.String(),
  at: Instant,
  location: Type.Boolean(),
});

export const RunnerToday = Type.Object({
  runnerId: Id,
  name: Type.String(),
  groupName: Type.String(),
  coachNames: Type.Array(Type.String()),
  today: PlainDate,
  /** When this was answered; phones' clocks are often wrong. */
  serverTime: Instant,
  week: Type.Object({
    startsOn: PlainDate,
    painAnswered: Type.Boolean({ description: "Someone said this week whether anything hurt." }),
    askCalfAchilles: Type.Boolean({ description: "Rule T5: a runner to be careful with." }),
    calfAchillesAnswered: Type.Boolean(),
  }),
  consent: nullable(Consent),
  baseline: nullable(Baseline),
  targetSpm: nullable(Type.Number()),
  capSpm: nullable(Type.Number({ description: "The page never nudges the beat above this." })),
  targetSpeedMps: nullable(Type.Number()),
  paceTable: Type.Array(PaceRow),
  stageIndex: nullable(Type.Integer()),
  stageCount: nullable(Type.Integer()),
  stopped: Type.Boolean({ description: "The coach said stop and refer: no session, no beat." }),
  session: nullable(PlannedSession),
  upcoming: Type.Array(PlannedSession, { description: "The next two weeks, for days without a signal." }),
  cautions: Type.Array(Type.String()),
  settings: Settings,
  linkExpiresAt: Instant,
});
export type RunnerToday = Static<typeof RunnerToday>;

export const RunnerUploadQuery = Type.Object({
  fileName: Type.String({ minLength: 1, maxLength: 255 }),
  surface: Type.Optional(Type.Enum(["outdoor", "treadmill", "unknown"])),
  effortRating: Type.Optional(Type.Integer({ minimum: 0, maximum: 10 })),
  sha256: Type.Optional(Type.String({ pattern: "^[0-9a-f]{64}$" })),
});

/** How far a recording that is sent in parts has come. */
export const RunnerPartsArrived = Type.Object({
  receivedBytes: Type.Integer({ minimum: 0, description: "On the disk, without a gap from the file's beginning." }),
  isStored: Type.Boolean({ description: "The whole recording is there already; nothing more is to be sent." }),
});

export const RunnerUploadOutcome = Type.Object({
  outcome: Type.Enum(["stored", "duplicate", "already-stored"]),
  recordingId: Id,
  contentSha256: Type.String(),
  byteCount: Type.Integer(),
});

export const RunnerSent = Type.Object({
  recordings: Type.Array(
    Type.Object({
      id: Id,
      fileName: Type.String(),
      byteCount: Type.Integer(),
      contentSha256: Type.String(),
      uploadedAt: Instant,
    }),
  ),
  countCount: Type.Integer(),
  reportCount: Type.Integer(),
});
