// The phone page. The link's token travels as "Authorization: Bearer …" and never in an address.
import { Type } from "typebox";
import { CountInput } from "../schemas/counts.ts";
import { Id } from "../schemas/common.ts";
import * as observations from "../schemas/observations.ts";
import { Deleted } from "../schemas/operations.ts";
import * as page from "../schemas/runner-page.ts";
import { BeatEvents, RunnerTrackQuery } from "../schemas/tracks.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes, OwnCountParams, OwnEntryParams, OwnPartParams, OwnRecordingParams } from "./params.ts";

const tag = "Phone page";
const access = "runner";
const Stored = Type.Object({ id: Id, outcome: Type.Enum(["stored", "already-stored"]) });

export const runnerPageRoutes = defineRoutes({
  "GET /api/runner/today": {
    summary: "Today's session and what the page needs for two weeks offline",
    tag,
    access,
    response: page.RunnerToday,
  },
  "PUT /api/runner/consent": {
    summary: "Give or withdraw consent",
    description: "Recordings and counts are refused (403, consent-needed) until consent is given.",
    tag,
    access,
    body: page.ConsentInput,
    response: page.Consent,
  },
  "GET /api/runner/beat-events": {
    summary: "The exact beat list",
    tag,
    access,
    query: RunnerTrackQuery,
    response: BeatEvents,
  },
  "GET /api/runner/track": {
    summary: "The beat track as a sound file",
    tag,
    access,
    query: RunnerTrackQuery,
    response: Bytes,
    produces: ["audio/wav", "audio/flac", "audio/ogg"],
  },
  "PUT /api/runner/counts/:countId": {
    summary: "Send a count",
    tag,
    access,
    params: OwnCountParams,
    body: CountInput,
    response: Stored,
  },
  "PUT /api/runner/recordings/:recordingId": {
    summary: "Send a recording",
    description: "Safe to send again; the same bytes are stored once.",
    tag,
    access,
    params: OwnRecordingParams,
    query: page.RunnerUploadQuery,
    fileBody: true,
    response: page.RunnerUploadOutcome,
  },
  "GET /api/runner/recordings/:recordingId/parts": {
    summary: "How much of a recording has arrived",
    tag,
    access,
    params: OwnRecordingParams,
    response: page.RunnerPartsArrived,
  },
  "PUT /api/runner/recordings/:recordingId/parts/:startByte": {
    summary: "Send a part of a recording",
    description:
      "At most 1 MiB, in order. A part that does not begin where the last one ended is not kept; the answer says where to go on.",
    tag,
    access,
    params: OwnPartParams,
    fileBody: true,
    response: page.RunnerPartsArrived,
  },
  "POST /api/runner/recordings/:recordingId/join": {
    summary: "Make a recording of the parts that arrived",
    description:
      "Safe to send again. With another sha256 than the parts have, they are dropped (422, damaged-on-the-way).",
    tag,
    access,
    params: OwnRecordingParams,
    query: page.RunnerUploadQuery,
    response: page.RunnerUploadOutcome,
  },
  "PUT /api/runner/reports/:entryId": {
    summary: "How it went: effort, done, a note",
    tag,
    access,
    params: OwnEntryParams,
    body: observations.ReportInput,
    response: Stored,
  },
  "PUT /api/runner/pain/:entryId": {
    summary: "Say where it hurts and how much",
    tag,
    access,
    params: OwnEntryParams,
    body: observations.PainInput,
    response: Stored,
  },
  "GET /api/runner/sent": { summary: "What of mine is stored", tag, access, response: page.RunnerSent },
  "GET /api/runner/export.zip": {
    summary: "Everything about me",
    tag,
    access,
    response: Bytes,
    produces: ["application/zip"],
  },
  "DELETE /api/runner/recordings/:recordingId": {
    summary: "Delete one of my recordings for good",
    tag,
    access,
    params: OwnRecordingParams,
    response: Deleted,
  },
  "DELETE /api/runner/me": {
    summary: "Delete everything about me",
    description: "Recordings, counts, reports, history and this link; the coach sees only that it happened.",
    tag,
    access,
    response: Deleted,
  },
});
