// Tones that say which block comes: rising when the beat begins, falling when it goes, three notes for the quick pieces,
// one long note for the easy ends. Described for people in docs/method/beat.md.
import { type AnnouncementId } from "./schedule.ts";

interface Note {
  readonly hz: number;
  readonly lengthS: number;
}

const LOW = 1047;
const MIDDLE = 1319;
const HIGH = 1568;
const SHORT_S = 0.12;
const LONG_S = 0.35;

function notes(lengthS: number, ...pitches: readonly number[]): readonly Note[] {
  return pitches.map((hz) => ({ hz, lengthS }));
}

export const ANNOUNCEMENT_NOTES: Readonly<Record<AnnouncementId, readonly Note[]>> = {
  "warm-up": notes(LONG_S, LOW),
  "standing-drill": notes(SHORT_S, MIDDLE, MIDDLE),
  drill: notes(SHORT_S, MIDDLE, LOW, MIDDLE),
  "cue-on": notes(SHORT_S, LOW, HIGH),
  "cue-off": notes(SHORT_S, HIGH, LOW),
  strides: notes(SHORT_S, LOW, MIDDLE, HIGH),
  "cool-down": notes(LONG_S, MIDDLE),
  end: notes(LONG_S, HIGH, LOW),
};

const GAP_S = 0.04;
const EDGE_S = 0.01;
/** Soft enough that an announcement over a click stays under the peak ceiling. */
export const ANNOUNCEMENT_PEAK = 0.18;

/** Length in seconds, the gaps between notes included. */
export function announcementLengthS(id: AnnouncementId): number {
  const list = ANNOUNCEMENT_NOTES[id];
  return list.reduce((sum, note) => sum + note.lengthS, 0) + GAP_S * (list.length - 1);
}

/** The announcement as samples in [−0.18, 0.18]: sine notes with raised-cosine edges of 10 ms. */
export function announcementSamples(id: AnnouncementId, sampleRateHz: number): Float32Array {
  const samples = new Float32Array(Math.ceil(announcementLengthS(id) * sampleRateHz));
  let startS = 0;
  for (const { hz, lengthS } of ANNOUNCEMENT_NOTES[id]) {
    const first = Math.ceil(startS * sampleRateHz);
    for (let index = first; index < samples.length && index / sampleRateHz < startS + lengthS; index += 1) {
      const timeS = index / sampleRateHz - startS;
      const edge = Math.min(1, timeS / EDGE_S, (lengthS - timeS) / EDGE_S);
      samples[index] = ANNOUNCEMENT_PEAK * ((1 - Math.cos(Math.PI * edge)) / 2) * Math.sin(2 * Math.PI * hz * timeS);
    }
    startS += lengthS + GAP_S;
  }
  return samples;
}
