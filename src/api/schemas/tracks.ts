// Beat tracks: the exact events as JSON, and the sound files made from them.
import { type Static, Type } from "typebox";
import { PlainDate } from "./common.ts";
import { Session } from "./plans.ts";

const TrackFormat = Type.Enum(["wav", "flac", "ogg"]);

export const TrackOptions = {
  format: Type.Optional(TrackFormat),
  click: Type.Optional(Type.String({ maxLength: 40, description: "Click sound; the group's setting when absent." })),
  sampleRateHz: Type.Optional(Type.Integer({ minimum: 8000, maximum: 48_000 })),
  speech: Type.Optional(
    Type.Boolean({ description: "Announcements in words after the tones, where the machine can speak." }),
  ),
};

/** Which session: a planned one by its id, or a plain beat of so many minutes. */
export const RunnerTrackQuery = Type.Object({
  ...TrackOptions,
  sessionId: Type.Optional(Type.String({ maxLength: 80, description: "The next planned session when absent." })),
  stepRateSpm: Type.Optional(Type.Number({ minimum: 40, maximum: 300 })),
  minutes: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 180 })),
});

export const LaneTrackQuery = Type.Object({
  ...TrackOptions,
  beatSpm: Type.Number({ minimum: 40, maximum: 300 }),
  minutes: Type.Number({ exclusiveMinimum: 0, maximum: 180 }),
});

export const GroupTracksQuery = Type.Object({
  ...TrackOptions,
  on: Type.Optional(PlainDate),
  presentOnly: Type.Optional(Type.Boolean()),
  speedBandMps: Type.Optional(Type.Number({ minimum: 0.05, maximum: 3 })),
  tolerancePercent: Type.Optional(Type.Number({ minimum: 0.1, maximum: 10 })),
  speakers: Type.Optional(Type.Integer({ minimum: 1, maximum: 20 })),
  minutes: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 180 })),
});

const BeatEvent = Type.Object({
  kind: Type.Enum(["click", "count-in", "announce"]),
  timeS: Type.Number({ description: "From the start of the track." }),
  sampleIndex: Type.Integer(),
  blockIndex: Type.Integer(),
  voice: Type.Optional(Type.Enum(["left", "right"])),
  accent: Type.Optional(Type.Boolean()),
  announcement: Type.Optional(Type.String()),
});

export const BeatEvents = Type.Object({
  session: Session,
  sampleRateHz: Type.Integer(),
  leadInS: Type.Number(),
  durationS: Type.Number(),
  beatCount: Type.Integer(),
  events: Type.Array(BeatEvent),
});
export type BeatEvents = Static<typeof BeatEvents>;
