// The week, lanes and beat tracks.
import type { eveningRoutes } from "../../api/routes/evenings.ts";
import { GroupReader } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { zipTracks } from "../tracks/zip-tracks.ts";
import { beatList, fileAnswer, laneTrack, runnerTrack } from "../use-cases/beat-track.ts";
import { decideWeek } from "../use-cases/decide-week.ts";
import { eveningLanes } from "../use-cases/evening-lanes.ts";
import { presentWeek } from "../use-cases/week.ts";

const EVENING_MINUTES = 30;

export function eveningHandlers(deps: Deps): Handlers<keyof typeof eveningRoutes> {
  const settingsOf = async (groupId: string): Promise<string> => {
    const row = await new GroupReader(deps.store.db).row(groupId);
    if (row === undefined) throw notFound("group");
    return row.settingsJson;
  };
  return {
    "GET /api/groups/:groupId/week": ({ params, query }) => presentWeek(deps, params.groupId, query),
    "PUT /api/groups/:groupId/week/decisions": ({ caller, body }) =>
      decideWeek(deps, caller, body.weekStartsOn, body.decisions),
    "GET /api/groups/:groupId/lanes": ({ params, query }) => eveningLanes(deps, params.groupId, query),
    "GET /api/groups/:groupId/lanes/track": async ({ params, query }) =>
      fileAnswer(laneTrack(await settingsOf(params.groupId), query.beatSpm, query.minutes, query)),
    "GET /api/groups/:groupId/lanes/tracks.zip": async ({ params, query }) => {
      const settingsJson = await settingsOf(params.groupId);
      const { lanes, on } = await eveningLanes(deps, params.groupId, query);
      if (lanes.length === 0) throw notFound("lane: nobody has a target for that evening");
      const minutes = query.minutes ?? EVENING_MINUTES;
      const tracks = lanes.map((lane) => laneTrack(settingsJson, lane.beatSpm, minutes, query));
      return {
        stream: zipTracks(tracks, { madeAt: deps.clock.now() }),
        mediaType: "application/zip",
        fileName: `lanes ${on}.zip`,
      };
    },
    "GET /api/runners/:runnerId/track": ({ params, query }) => runnerTrack(deps, params.runnerId, query),
    "GET /api/runners/:runnerId/beat-events": ({ params, query }) => beatList(deps, params.runnerId, query),
  };
}
