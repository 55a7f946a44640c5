import { Type } from "typebox";
import { Id } from "../schemas/common.ts";
import * as out from "../schemas/hand-outs.ts";
import { defineRoutes } from "./contract.ts";
import { Bytes, Empty, GroupParams } from "./params.ts";

const tag = "Hand-outs";
const calendar = ["text/calendar"] as const;

export const handOutRoutes = defineRoutes({
  "GET /api/groups/:groupId/sheet": {
    summary: "The evening's sheet: who runs what, to which lane's beat",
    tag,
    access: "member",
    params: GroupParams,
    query: out.SheetQuery,
    response: out.Sheet,
  },
  "GET /api/groups/:groupId/tracks.zip": {
    summary: "Every runner's beat track in one archive",
    description: "Made while it is sent. Ask for the progress with the progressId that was given.",
    tag,
    access: "member",
    params: GroupParams,
    query: out.SessionTracksQuery,
    response: Bytes,
    produces: ["application/zip"],
  },
  "GET /api/groups/:groupId/tracks-progress/:progressId": {
    summary: "How far an archive of tracks is",
    tag,
    access: "member",
    params: Type.Object({ groupId: Id, progressId: Id }),
    response: out.TrackProgress,
  },
  "GET /api/groups/:groupId/messages": {
    summary: "The week as a plain-text message to each runner",
    tag,
    access: "member",
    params: GroupParams,
    query: out.MessageQuery,
    response: out.Messages,
  },
  "GET /api/groups/:groupId/plans.ics": {
    summary: "Everyone's sessions as one calendar (RFC 5545)",
    tag,
    access: "member",
    params: GroupParams,
    response: Bytes,
    produces: calendar,
  },
  "GET /api/groups/:groupId/feeds": {
    summary: "Calendar addresses of the group",
    tag,
    access: "coach",
    params: GroupParams,
    response: Type.Object({ items: Type.Array(out.Feed) }),
  },
  "PUT /api/groups/:groupId/feeds/:feedId": {
    summary: "Make a calendar address",
    description: "For one runner, or for the whole group. Its secret is in this answer and nowhere else.",
    tag,
    access: "coach",
    params: out.FeedParams,
    body: out.FeedInput,
    response: out.FeedCreated,
  },
  "DELETE /api/groups/:groupId/feeds/:feedId": {
    summary: "Take a calendar address back",
    tag,
    access: "coach",
    params: out.FeedParams,
    response: out.Feed,
  },
  "GET /api/calendar/:token": {
    summary: "A calendar by its secret address",
    tag,
    access: "public",
    params: out.CalendarParams,
    response: Bytes,
    produces: calendar,
  },
  "GET /api/mail/server": {
    summary: "One's own mail server, without its password",
    tag: "Mail",
    access: "signed-in",
    response: out.MailServer,
  },
  "PUT /api/mail/server": {
    summary: "Set one's own mail server",
    description: "Off until this is done. Never in the clear except to this machine itself.",
    tag: "Mail",
    access: "signed-in",
    body: out.MailServerInput,
    response: out.MailServer,
  },
  "DELETE /api/mail/server": {
    summary: "Forget one's mail server and its password",
    description: "What waits in the outbox stays there unsent.",
    tag: "Mail",
    access: "signed-in",
    response: Empty,
  },
  "GET /api/groups/:groupId/addresses": {
    summary: "E-mail addresses of the runners",
    tag: "Mail",
    access: "coach",
    params: GroupParams,
    response: out.Addresses,
  },
  "PUT /api/groups/:groupId/addresses": {
    summary: "Set or take away e-mail addresses",
    tag: "Mail",
    access: "coach",
    params: GroupParams,
    body: out.AddressBatch,
    response: Type.Object({ items: out.Addresses.properties.items, changeId: Type.Union([Id, Type.Null()]) }),
  },
  "POST /api/groups/:groupId/mail/preview": {
    summary: "The messages exactly as they would go out; sends nothing",
    tag: "Mail",
    access: "coach",
    params: GroupParams,
    body: out.MailDrafts,
    response: out.MailPreviews,
  },
  "POST /api/groups/:groupId/mail": {
    summary: "Queue previewed messages for sending",
    description:
      "Each with the digest of its preview. The same text to the same runner in the same week goes out once.",
    tag: "Mail",
    access: "coach",
    params: GroupParams,
    body: out.MailSend,
    response: out.MailSent,
  },
  "GET /api/groups/:groupId/mail": {
    summary: "The outbox, newest first",
    tag: "Mail",
    access: "coach",
    params: GroupParams,
    response: Type.Object({ items: Type.Array(out.MailItem) }),
  },
  "POST /api/groups/:groupId/mail/:mailId/again": {
    summary: "Send a failed or uncertain message again",
    description: "An uncertain one may have arrived: only the coach who queued it decides.",
    tag: "Mail",
    access: "coach",
    params: out.MailParams,
    response: Type.Object({ item: out.MailItem }),
  },
});
