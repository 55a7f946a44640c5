// The evening's sheet, tracks for everyone, messages, calendar addresses.
import type { handOutRoutes } from "../../api/routes/hand-outs.ts";
import { HandOutReader } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { onePiece } from "../app/send-file.ts";
import { calendarText, feedText, makeFeed, presentFeed, revokeFeed } from "../use-cases/calendar-feeds.ts";
import { groupMessages } from "../use-cases/group-messages.ts";
import { groupSheet } from "../use-cases/group-sheet.ts";
import { createProgressBoard, groupTracks } from "../use-cases/group-tracks.ts";
import { mailHandlers } from "./mail.ts";

export function handOutHandlers(deps: Deps): Handlers<keyof typeof handOutRoutes> {
  const board = createProgressBoard();
  return {
    ...mailHandlers(deps),
    "GET /api/groups/:groupId/sheet": ({ params, query }) => groupSheet(deps, params.groupId, query),
    "GET /api/groups/:groupId/tracks.zip": ({ params, query }) => {
      const { progressId, ...wish } = query;
      const report = progressId === undefined ? undefined : board.report(params.groupId, progressId);
      return groupTracks(deps, params.groupId, wish, report);
    },
    "GET /api/groups/:groupId/tracks-progress/:progressId": ({ params }) => {
      const found = board.read(params.groupId, params.progressId);
      return {
        known: found !== undefined,
        tracksDone: found?.tracksDone ?? 0,
        trackCount: found?.trackCount ?? 0,
        fileName: found?.fileName ?? null,
      };
    },
    "GET /api/groups/:groupId/messages": ({ caller, query }) => groupMessages(deps, caller, query),
    "GET /api/groups/:groupId/plans.ics": async ({ params }) => ({
      stream: onePiece(await calendarText(deps, params.groupId, null, instant(deps.clock))),
      mediaType: "text/calendar; charset=utf-8",
      fileName: "group.ics",
    }),
    "GET /api/groups/:groupId/feeds": async ({ params }) => ({
      items: (await new HandOutReader(deps.store.db).feeds(params.groupId)).map(presentFeed),
    }),
    "PUT /api/groups/:groupId/feeds/:feedId": ({ caller, params, body }) =>
      makeFeed(deps, caller, params.feedId, body.runnerId ?? null),
    "DELETE /api/groups/:groupId/feeds/:feedId": ({ caller, params }) => revokeFeed(deps, caller, params.feedId),
    "GET /api/calendar/:token": async ({ params }) => ({
      stream: onePiece(await feedText(deps, params.token)),
      mediaType: "text/calendar; charset=utf-8",
      fileName: "spondee.ics",
      inline: true,
    }),
  };
}
