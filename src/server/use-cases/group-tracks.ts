// Everyone's beat tracks in one archive, and how far it is.
import { initialsOf } from "../../engine/beat/track-tags.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { GroupReader, WeekReader } from "../../store/index.ts";
import type { FileAnswer } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import type { TrackFile } from "../tracks/track.ts";
import { type ZipProgress, zipTracks } from "../tracks/zip-tracks.ts";
import { sessionTrackFile, type TrackWish } from "./beat-track.ts";
import { nextWeekday, plusDays, today } from "./dates.ts";
import { json } from "./present.ts";

export interface GroupTracksWish extends TrackWish {
  readonly on?: string;
  readonly days?: number;
}

/** Tracks of all sessions with a beat from `on` for `days` days; the evening's alone when nothing is said. */
export async function groupTracks(
  deps: Deps,
  groupId: string,
  wish: GroupTracksWish,
  onProgress?: (progress: ZipProgress) => void,
): Promise<FileAnswer> {
  const group = await new GroupReader(deps.store.db).row(groupId);
  if (group === undefined) throw notFound("group");
  const on = wish.on ?? nextWeekday(today(deps.clock, group.timeZone), group.eveningWeekday);
  const until = plusDays(on, (wish.days ?? 1) - 1);
  const tracks: TrackFile[] = [];
  for (const runner of await new WeekReader(deps.store.db).runners(groupId)) {
    const plan = runner.planJson === null ? null : json<Plan>(runner.planJson);
    if (plan === null || plan.status === "stopped") continue;
    for (const { date, session } of plan.stages.flatMap((stage) => stage.sessions)) {
      if (date < on || date > until || !session.blocks.some((block) => block.stepRateSpm !== undefined)) continue;
      const dated = { ...session, title: `${date} ${session.title}` };
      const beat = { session: dated, initials: initialsOf(runner.name), settingsJson: group.settingsJson };
      tracks.push(await sessionTrackFile(deps, beat, wish));
    }
  }
  if (tracks.length === 0) throw notFound("session with a beat on these days");
  return {
    stream: zipTracks(tracks, { madeAt: deps.clock.now(), ...(onProgress === undefined ? {} : { onProgress }) }),
    mediaType: "application/zip",
    fileName: `tracks ${on}.zip`,
  };
}

const MOST_KEPT = 200;

export interface ProgressBoard {
  report(groupId: string, progressId: string): (progress: ZipProgress) => void;
  read(groupId: string, progressId: string): ZipProgress | undefined;
}

/** The latest archives of this process; the oldest are forgotten. Another process knows nothing of them, and says so. */
export function createProgressBoard(): ProgressBoard {
  const board = new Map<string, ZipProgress>();
  const keyOf = (groupId: string, progressId: string): string => `${groupId}/${progressId}`;
  return {
    report: (groupId, progressId) => (progress) => {
      const key = keyOf(groupId, progressId);
      board.delete(key);
      board.set(key, progress);
      const oldest = board.keys().next();
      if (board.size > MOST_KEPT && !oldest.done) board.delete(oldest.value);
    },
    read: (groupId, progressId) => board.get(keyOf(groupId, progressId)),
  };
}
