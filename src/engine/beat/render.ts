// The schedule as sound, a few seconds at a time: prepared clicks are copied into blocks of silence.
import { announcementSamples } from "./announcements.ts";
import { type ClickId, clickSamples } from "./clicks.ts";
import { beatEvents } from "./events.ts";
import { type BeatEvent, type BeatSchedule, type StepEvent } from "./schedule.ts";

export interface SoundOptions {
  readonly clickId: ClickId;
  /** True: left and right sound alike. */
  readonly onePitch?: boolean;
  /** Sounds in place of the tones, in the order of the schedule's announcements, at its sample rate, peaks below 0.18. */
  readonly announcementSounds?: readonly Int16Array[];
}

const CHUNK_S = 4;
/** Clicks are made at this many places between two samples, so that they begin within a sixteenth of a sample of their time. */
const PLACES_PER_SAMPLE = 8;
export const FULL_SCALE = 32_767;

/**
 * 16-bit mono chunks of 4 s (the last one shorter) at the schedule's sample rate, schedule.sampleCount samples in all.
 * Memory: one chunk and the sounds, whatever the length. Every sound starts on its event's sampleIndex, and a click within it
 * where its exact time falls, to 1/16 of a sample. A click that the next one overtakes is cut there, so clicks never add up, and a click under an announcement stays below −1 dBFS.
 */
export function* renderBeat(schedule: BeatSchedule, options: SoundOptions): Generator<Int16Array, void, undefined> {
  const soundOf = createSounds(schedule.sampleRateHz, options);
  const chunkLength = CHUNK_S * schedule.sampleRateHz;
  const events = beatEvents(schedule);
  let upcoming = events.next();
  let ringing: Ringing[] = [];
  for (let chunkStart = 0; chunkStart < schedule.sampleCount; chunkStart += chunkLength) {
    const chunkEnd = Math.min(chunkStart + chunkLength, schedule.sampleCount);
    for (; upcoming.done !== true && upcoming.value.sampleIndex < chunkEnd; upcoming = events.next())
      ringing = startSound(ringing, upcoming.value, soundOf(upcoming.value));
    const chunk = new Int16Array(chunkEnd - chunkStart);
    for (const sound of ringing) mix(chunk, chunkStart, sound);
    ringing = ringing.filter((sound) => sound.end > chunkEnd);
    yield chunk;
  }
}

interface Ringing {
  readonly samples: Int16Array;
  readonly start: number;
  readonly end: number;
  readonly isClick: boolean;
}

/** Adds a sound and ends the last one of its own kind where it begins. */
function startSound(ringing: readonly Ringing[], event: BeatEvent, samples: Int16Array): Ringing[] {
  const start = event.sampleIndex;
  const isClick = event.kind !== "announce";
  const last = ringing.findLastIndex((sound) => sound.isClick === isClick);
  const cut = ringing.map((sound, index) => (index === last && sound.end > start ? { ...sound, end: start } : sound));
  cut.push({ samples, start, end: start + samples.length, isClick });
  return cut;
}

function mix(chunk: Int16Array, chunkStart: number, { samples, start, end }: Ringing): void {
  const from = Math.max(start, chunkStart);
  const to = Math.min(end, chunkStart + chunk.length);
  for (let index = from; index < to; index += 1) chunk[index - chunkStart]! += samples[index - start]!;
}

/** Each distinct sound is made once. */
function createSounds(sampleRateHz: number, options: SoundOptions): (event: BeatEvent) => Int16Array {
  const made = new Map<string, Int16Array>();
  return (event) => {
    const given = event.kind === "announce" ? options.announcementSounds?.[event.announcementIndex] : undefined;
    if (given !== undefined) return given;
    const lateBySamples = event.kind === "announce" ? 0 : lateness(event, sampleRateHz);
    const key =
      event.kind === "announce" ? event.announcement : `${event.kind} ${event.voice} ${event.accent} ${lateBySamples}`;
    const known = made.get(key);
    if (known !== undefined) return known;
    const samples =
      event.kind === "announce"
        ? announcementSamples(event.announcement, sampleRateHz)
        : clickSamples(options.clickId, { ...options, sampleRateHz, ...event, lateBySamples });
    const quantised = Int16Array.from(samples, (value) => Math.round(value * FULL_SCALE));
    made.set(key, quantised);
    return quantised;
  };
}

/** How far the exact time lies behind the sample that the click is laid on, rounded to a place. */
function lateness({ timeS, sampleIndex }: StepEvent, sampleRateHz: number): number {
  const places = Math.round((timeS * sampleRateHz - sampleIndex) * PLACES_PER_SAMPLE);
  return Math.max(-0.5, Math.min(0.5, places / PLACES_PER_SAMPLE));
}
