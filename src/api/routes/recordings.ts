import { Type } from "typebox";
import { Changed, nullable, pageOf, savedOf } from "../schemas/common.ts";
import * as comparisons from "../schemas/comparisons.ts";
import * as recordings from "../schemas/recordings.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes, RecordingParams, RunnerParams } from "./params.ts";

const tag = "Recordings";

export const recordingRoutes = defineRoutes({
  "GET /api/runners/:runnerId/recordings": {
    summary: "Recordings, newest first",
    tag,
    access: "member",
    params: RunnerParams,
    query: recordings.RecordingQuery,
    response: pageOf(recordings.Recording),
  },
  "PUT /api/runners/:runnerId/recordings/:recordingId": {
    summary: "Send one recording",
    description:
      "The body is the file (GPX 1.1, CSV track, motion or sound), streamed. Stored whole or not at all; the same bytes are never stored twice. 422 with problems when it cannot be read.",
    tag,
    access: "member",
    params: RecordingParams,
    query: recordings.UploadQuery,
    fileBody: true,
    response: recordings.UploadOutcome,
  },
  "GET /api/runners/:runnerId/recordings/:recordingId": {
    summary: "One recording with its windows and traces",
    tag,
    access: "member",
    params: RecordingParams,
    query: Type.Object({ maxPoints: Type.Optional(Type.Integer({ minimum: 50, maximum: 20_000, default: 12_000 })) }),
    response: recordings.RecordingDetail,
  },
  "PATCH /api/runners/:runnerId/recordings/:recordingId": {
    summary: "Relabel, trim or leave out a recording",
    tag,
    access: "member",
    params: RecordingParams,
    body: recordings.RecordingEdit,
    response: savedOf(recordings.Recording),
  },
  "DELETE /api/runners/:runnerId/recordings/:recordingId": {
    summary: "Remove a recording",
    description: "Its bytes stay until the change can no longer be undone (30 days), or the person is deleted.",
    tag,
    access: "coach",
    params: RecordingParams,
    response: Changed,
  },
  "GET /api/runners/:runnerId/recordings/:recordingId/file": {
    summary: "The file as it came, byte for byte",
    tag,
    access: "member",
    params: RecordingParams,
    response: Bytes,
    produces: ["application/octet-stream"],
  },
  "GET /api/runners/:runnerId/comparison": {
    summary: "Before against after at matched speed",
    tag,
    access: "member",
    params: RunnerParams,
    query: comparisons.ComparisonQuery,
    response: comparisons.ComparisonAnswer,
  },
  "GET /api/runners/:runnerId/runs": {
    summary: "Each run against the before line, oldest first",
    tag,
    access: "member",
    params: RunnerParams,
    response: Type.Object({ referenceSpeedMps: nullable(Type.Number()), items: Type.Array(comparisons.RunSplit) }),
  },
});
