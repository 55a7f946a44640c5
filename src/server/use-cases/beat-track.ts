// From a runner's session, a lane or a plain wish to the exact beat and its sound file.
import type { BeatEvents } from "../../api/index.ts";
import type { ClickId } from "../../engine/beat/clicks.ts";
import { createBeatSchedule, DEFAULT_SAMPLE_RATE_HZ, SESSION_TRACK } from "../../engine/beat/create-schedule.ts";
import { beatEvents } from "../../engine/beat/events.ts";
import type { BeatOptions, BeatSchedule } from "../../engine/beat/schedule.ts";
import { initialsOf } from "../../engine/beat/track-tags.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import type { Session } from "../../engine/session/session.ts";
import { GroupReader, RunnerReader } from "../../store/index.ts";
import type { FileAnswer } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { speakAnnouncements } from "../tracks/speech.ts";
import { createTrack, type TrackFile, type TrackFormat } from "../tracks/track.ts";
import { today } from "./dates.ts";
import { sessionShape } from "./plan-row.ts";
import { json } from "./present.ts";
import { readSettings, settingsProblems } from "./settings.ts";

export interface TrackWish {
  readonly format?: TrackFormat;
  readonly click?: string;
  readonly sampleRateHz?: number;
  readonly sessionId?: string;
  readonly stepRateSpm?: number;
  readonly minutes?: number;
  /** Announcements in words after the tones, where the machine can speak. */
  readonly speech?: boolean;
}

interface Beat {
  readonly session: Session;
  readonly schedule: BeatSchedule;
  readonly initials: string;
  readonly settingsJson: string;
}

/** Announced, counted in; a plain beat when rate and minutes are given, else the session asked for or the next one. */
async function runnerBeat(deps: Deps, runnerId: string, wish: TrackWish): Promise<Beat> {
  const reader = new RunnerReader(deps.store.db);
  const runner = await reader.one(runnerId);
  if (runner === undefined) throw notFound("runner");
  const group = await new GroupReader(deps.store.db).row(runner.groupId);
  const planRow = await reader.plan(runnerId);
  const plan = planRow === undefined ? null : json<Plan>(planRow.planJson);
  const day = today(deps.clock, group?.timeZone ?? "UTC");
  const session =
    wish.stepRateSpm !== undefined
      ? plainSession(wish.stepRateSpm, wish.minutes ?? 30)
      : plannedSession(plan, wish, day);
  const { settingsJson } = group ?? { settingsJson: "{}" };
  return { session, schedule: scheduleOf(session, wish), initials: initialsOf(runner.name), settingsJson };
}

export async function runnerTrack(deps: Deps, runnerId: string, wish: TrackWish): Promise<FileAnswer> {
  const beat = await runnerBeat(deps, runnerId, wish);
  return fileAnswer(await sessionTrackFile(deps, beat, wish));
}

/** With spoken announcements when they are wished for and the machine can speak; with tones otherwise. */
export async function sessionTrackFile(
  deps: Pick<Deps, "speech">,
  beat: Omit<Beat, "schedule">,
  wish: TrackWish,
): Promise<TrackFile> {
  const { session } = beat;
  const speaker = wish.speech === true && session.blocks.length > 1 ? await deps.speech?.() : undefined;
  if (speaker === undefined) return trackFile({ ...beat, schedule: scheduleOf(session, wish) }, wish);
  const sampleRateHz = wish.sampleRateHz ?? DEFAULT_SAMPLE_RATE_HZ;
  const spoken = await speakAnnouncements(session.blocks, speaker, sampleRateHz);
  const schedule = scheduleOf(session, { ...wish, sampleRateHz }, { announcementLengthsS: spoken.lengthsS });
  return trackFile({ ...beat, schedule }, wish, spoken.sounds);
}

export function laneTrack(settingsJson: string, beatSpm: number, minutes: number, wish: TrackWish): TrackFile {
  const session = plainSession(beatSpm, minutes);
  return trackFile({ session, schedule: scheduleOf(session, wish), initials: "", settingsJson }, wish);
}

export async function beatList(deps: Deps, runnerId: string, wish: TrackWish): Promise<BeatEvents> {
  const { session, schedule } = await runnerBeat(deps, runnerId, wish);
  return {
    session: sessionShape(session),
    sampleRateHz: schedule.sampleRateHz,
    leadInS: schedule.leadInS,
    durationS: schedule.durationS,
    beatCount: schedule.beatCount,
    events: [...beatEvents(schedule)].map((event) => ({ ...event })),
  };
}

export function fileAnswer(track: TrackFile): FileAnswer {
  return {
    stream: track.chunks(),
    mediaType: track.mediaType,
    fileName: track.fileName,
    ...(track.byteCount === undefined ? {} : { byteCount: track.byteCount }),
  };
}

function trackFile(beat: Beat, wish: TrackWish, announcementSounds?: readonly Int16Array[]): TrackFile {
  const settings = readSettings(beat.settingsJson);
  const click = wish.click ?? settings.click;
  const problems = settingsProblems({ click });
  if (problems.length > 0) throw unusable("There is no such click.", problems);
  const made = createTrack({
    schedule: beat.schedule,
    sound: { clickId: click as ClickId, ...(announcementSounds === undefined ? {} : { announcementSounds }) },
    tags: { title: beat.session.title, initials: beat.initials },
    format: wish.format ?? settings.beatTrackFormat,
  });
  if (!made.ok) throw unusable("The track cannot be made.", made.problems);
  return made.value;
}

/** A session is announced and counted in; a plain beat begins at once. */
function scheduleOf(session: Session, wish: TrackWish, more: BeatOptions = {}): BeatSchedule {
  const sampleRate = wish.sampleRateHz === undefined ? {} : { sampleRateHz: wish.sampleRateHz };
  const usual = session.blocks.length > 1 ? SESSION_TRACK : {};
  const made = createBeatSchedule(session, { ...usual, ...more, ...sampleRate });
  if (!made.ok) throw unusable("No beat can be made of this session.", made.problems);
  return made.value;
}

function plainSession(stepRateSpm: number, minutes: number): Session {
  return {
    id: "plain-beat",
    title: `Beat ${Math.round(stepRateSpm * 10) / 10} for ${minutes} min`,
    blocks: [{ kind: "cue-on", durationS: minutes * SECONDS_PER_MINUTE, stepRateSpm }],
  };
}

function plannedSession(plan: Plan | null, wish: TrackWish, day: string): Session {
  if (plan === null) throw new Refusal(409, "no-plan", "There is no plan; give a step rate and minutes.");
  if (plan.status === "stopped")
    throw new Refusal(409, "stopped", "The plan is stopped. No beat until the runner may go on.");
  const sessions = plan.stages.flatMap((stage) => stage.sessions);
  const found =
    wish.sessionId === undefined
      ? sessions.find((entry) => entry.date >= day)
      : sessions.find((entry) => entry.session.id === wish.sessionId);
  if (found === undefined) throw notFound("session");
  return found.session;
}
