import { Type } from "typebox";
import { Id, nullable } from "../schemas/common.ts";
import { LaneQuery, Lanes } from "../schemas/lanes.ts";
import * as tracks from "../schemas/tracks.ts";
import * as week from "../schemas/week.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes, GroupParams, RunnerParams } from "./params.ts";

const sound = ["audio/wav", "audio/flac", "audio/ogg"] as const;

export const eveningRoutes = defineRoutes({
  "GET /api/groups/:groupId/week": {
    summary: "This week: one line and one proposed decision per runner",
    description: "Pain first, then worst first. Paged.",
    tag: "Week",
    access: "member",
    params: GroupParams,
    query: week.WeekQuery,
    response: week.Week,
  },
  "PUT /api/groups/:groupId/week/decisions": {
    summary: "Confirm one, many or all; or overrule with a reason",
    description:
      "A decision other than the proposed one overrules it. Overruling stop-and-refer needs a typed reason. The plan moves with the decision. Sending again changes nothing.",
    tag: "Week",
    access: "coach",
    params: GroupParams,
    body: week.DecisionBatch,
    response: Type.Object({
      decided: Type.Array(week.Decision),
      refused: Type.Array(Type.Object({ runnerId: Id, because: Type.String() })),
      changeId: nullable(Id),
    }),
  },
  "GET /api/groups/:groupId/lanes": {
    summary: "Beat lanes for an evening",
    tag: "Evening",
    access: "member",
    params: GroupParams,
    query: LaneQuery,
    response: Lanes,
  },
  "GET /api/groups/:groupId/lanes/track": {
    summary: "The beat of one lane as a sound file",
    tag: "Beat",
    access: "member",
    params: GroupParams,
    query: tracks.LaneTrackQuery,
    response: Bytes,
    produces: sound,
  },
  "GET /api/groups/:groupId/lanes/tracks.zip": {
    summary: "The beats of all lanes",
    tag: "Beat",
    access: "member",
    params: GroupParams,
    query: tracks.GroupTracksQuery,
    response: Bytes,
    produces: ["application/zip"],
  },
  "GET /api/runners/:runnerId/track": {
    summary: "A runner's beat track",
    tag: "Beat",
    access: "member",
    params: RunnerParams,
    query: tracks.RunnerTrackQuery,
    response: Bytes,
    produces: sound,
  },
  "GET /api/runners/:runnerId/beat-events": {
    summary: "The exact beat list of the same session",
    tag: "Beat",
    access: "member",
    params: RunnerParams,
    query: tracks.RunnerTrackQuery,
    response: tracks.BeatEvents,
  },
});
