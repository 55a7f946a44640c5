// The beat as it is run to: the exact event list, put on the audio clock well ahead of time. Script may stall for seconds, or be
// slowed to one wake-up a minute behind a dark screen: what is scheduled sounds on time all the same.
import { announcementSamples } from "../../engine/beat/announcements.ts";
import { type ClickId, clickSamples } from "../../engine/beat/clicks.ts";
import { createBeatCursor } from "../../engine/beat/cursor.ts";
import { nudgeBeat } from "../../engine/beat/nudge.ts";
import type { BeatEvent, BeatSchedule } from "../../engine/beat/schedule.ts";

/** Longer than any stall that a phone was seen to make. */
const LOOK_AHEAD_S = 12;
/** Browsers wake a hidden page as rarely as once a minute. */
const HIDDEN_LOOK_AHEAD_S = 130;
const WAKE_EVERY_MS = 500;
/** What is closer than this may already be on its way to the loudspeaker. */
const TOO_LATE_TO_CHANGE_S = 0.15;
/** Sources older than this have rung out. */
const KEEP_S = 2;

export interface LiveBeatOptions {
  readonly click: ClickId;
  /** Where the sound goes; the context's own output when absent. */
  readonly output?: AudioNode;
  /** Where in the schedule to begin, seconds. Default 0. */
  readonly fromS?: number;
  /** Time on the audio clock at which `fromS` sounds; a moment from now when absent. */
  readonly atS?: number;
}

export interface LiveBeat {
  /** The schedule as it stands, nudges included. */
  schedule(): BeatSchedule;
  /** Seconds of the schedule at a time of the audio clock. */
  positionAt(audioS: number): number;
  /** Moves every rate from now on by so many spm, never raising it above capSpm. */
  nudge(deltaSpm: number, capSpm: number | undefined): void;
  setClick(click: ClickId): void;
  /** Beats that sound between two times of the schedule, for the picture and the vibration. */
  between(fromS: number, toS: number): readonly BeatEvent[];
  /** Silence at once. */
  stop(): void;
}

interface Placed {
  readonly source: AudioBufferSourceNode;
  readonly timeS: number;
}

/**
 * Plays a schedule made for this context's sample rate. Event k starts on sample (start + sampleIndex) of the context, so
 * onsets are those of the file to the sample. Suspending the context pauses the beat and everything that follows its clock.
 */
export function playLiveBeat(audio: AudioContext, initial: BeatSchedule, options: LiveBeatOptions): LiveBeat {
  if (initial.sampleRateHz !== audio.sampleRate)
    throw new RangeError(
      `playLiveBeat: the schedule must be made for ${audio.sampleRate} Hz, got ${initial.sampleRateHz} Hz`,
    );
  const { sampleRate } = audio;
  const fromS = options.fromS ?? 0;
  // On the sample grid: a start between two samples would be interpolated and blurred.
  const firstSample = Math.ceil((options.atS ?? audio.currentTime + 0.2) * sampleRate) - Math.round(fromS * sampleRate);
  const gain = audio.createGain();
  gain.connect(options.output ?? audio.destination);
  let { click } = options;
  let schedule = initial;
  let cursor = createBeatCursor(schedule);
  let filledToS = fromS;
  let placed: Placed[] = [];
  const sounds = new Map<string, AudioBuffer>();

  const soundOf = (event: BeatEvent): AudioBuffer => {
    const key =
      event.kind === "announce" ? event.announcement : `${click} ${event.kind} ${event.voice} ${String(event.accent)}`;
    const known = sounds.get(key);
    if (known !== undefined) return known;
    const samples =
      event.kind === "announce"
        ? announcementSamples(event.announcement, sampleRate)
        : clickSamples(click, { sampleRateHz: sampleRate, voice: event.voice, accent: event.accent, kind: event.kind });
    const buffer = audio.createBuffer(1, samples.length, sampleRate);
    buffer.copyToChannel(new Float32Array(samples), 0);
    sounds.set(key, buffer);
    return buffer;
  };
  const positionAt = (audioS: number): number => audioS - firstSample / sampleRate;
  const place = (event: BeatEvent): void => {
    const source = audio.createBufferSource();
    source.buffer = soundOf(event);
    source.connect(gain);
    source.start((firstSample + event.sampleIndex) / sampleRate);
    placed.push({ source, timeS: event.timeS });
  };
  const fill = (): void => {
    const nowS = positionAt(audio.currentTime);
    placed = placed.filter(({ timeS }) => timeS > nowS - KEEP_S);
    // After a stall beyond the look-ahead: what is past is past, not a burst of clicks.
    filledToS = Math.max(filledToS, nowS);
    const ahead = document.visibilityState === "hidden" ? HIDDEN_LOOK_AHEAD_S : LOOK_AHEAD_S;
    const toS = nowS + ahead;
    if (toS <= filledToS) return;
    for (const event of cursor.between(filledToS, toS)) place(event);
    filledToS = toS;
  };
  /** Takes back what has not sounded yet, from a time of the schedule on. */
  const takeBack = (atS: number): void => {
    for (const { source, timeS } of placed)
      if (timeS >= atS) {
        source.stop();
        source.disconnect();
      }
    placed = placed.filter(({ timeS }) => timeS < atS);
    filledToS = Math.min(filledToS, atS);
  };
  fill();
  const timer = setInterval(fill, WAKE_EVERY_MS);
  document.addEventListener("visibilitychange", fill);

  return {
    schedule: () => schedule,
    positionAt,
    nudge: (deltaSpm, capSpm) => {
      const atS = Math.max(0, positionAt(audio.currentTime) + TOO_LATE_TO_CHANGE_S);
      schedule = nudgeBeat(schedule, { atS, deltaSpm, ...(capSpm === undefined ? {} : { capSpm }) });
      cursor = createBeatCursor(schedule);
      takeBack(atS);
      fill();
    },
    setClick: (next) => {
      click = next;
      takeBack(positionAt(audio.currentTime) + TOO_LATE_TO_CHANGE_S);
      fill();
    },
    between: (from, to) => cursor.between(from, to),
    stop: () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", fill);
      gain.disconnect();
      for (const { source } of placed) source.stop();
    },
  };
}
