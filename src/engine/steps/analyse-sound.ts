// A sound recording of a runner to step rate windows, contacts and asymmetry.
import { type SoundRecording } from "../recordings/recording.ts";
import { type RateTrack } from "./rate-track.ts";
import { gatherWindows } from "./rate-windows.ts";
import { soundTimingAsymmetry } from "./sound-asymmetry.ts";
import { soundBands } from "./sound-bands.ts";
import { beatsPerMinute, findBeats } from "./sound-beats.ts";
import { inspectSamples } from "./sound-inspect.ts";
import { type LoudnessTrend, loudnessTrend } from "./sound-loudness.ts";
import { soundOnsets } from "./sound-onsets.ts";
import { type SoundContact, followRhythm } from "./sound-rhythm.ts";
import { type StepAnalysis } from "./step-analysis.ts";

export interface SoundAnalysis extends StepAnalysis {
  readonly loudnessTrend: LoudnessTrend;
}

/** How well the onsets of two unlike sounds compare, standard error: measured on invented footfalls. */
const ONSET_ERROR_S = 0.002;

/**
 * Step rate, contacts and timing asymmetry from the sound of the feet: a phone beside a treadmill, at 4 kHz or more.
 *
 * Contacts are the moments at which the sound sets in, as a microphone hears them (343 m/s: 3 ms a metre late). Where it
 * cannot be told whether every sound or every second one is a step, the window has no rate and says so; standing cannot be
 * heard, so silence is "unknown". Loudness is only a trend within the clip. Cost: about 2 ms for a second of sound at
 * 44.1 kHz, 100 bytes of memory for each hundredth of a second. docs/method/sound.md has the model and its limits.
 */
export function analyseSound(recording: SoundRecording): SoundAnalysis {
  const { sampleRateHz } = recording;
  if (!(sampleRateHz >= 4000 && sampleRateHz <= 400_000))
    throw new RangeError(`analyseSound: sampleRateHz must be in [4000, 400000], got ${sampleRateHz}`);
  const { samples, silent, warnings } = inspectSamples(recording.samples);
  const bands = soundBands(samples, sampleRateHz);
  const beats = findBeats(samples, sampleRateHz);
  const { track, contacts } = followRhythm(soundOnsets(bands, beats), beats);
  const stepTimesS = Float64Array.from(contacts, (contact) => contact.timeS);
  const runningTimesS = contacts.filter(({ state }) => state === "running").map(({ timeS }) => timeS);
  const said = silent ? silentTrack(track) : track;
  return {
    windows: gatherWindows(said, samples.length / sampleRateHz, recording.cueBlocks),
    stepTimesS,
    stepCount: stepTimesS.length,
    timingAsymmetry: soundTimingAsymmetry(longestRunningPiece(contacts), ONSET_ERROR_S),
    track: said,
    warnings: [
      ...warnings,
      ...beats.slice(0, 1).map((b) => ({ code: "metronome-heard", message: `${beatsPerMinute(b.grid)}` })),
    ],
    loudnessTrend: loudnessTrend(bands, runningTimesS),
  };
}

function silentTrack(track: RateTrack): RateTrack {
  return {
    ...track,
    points: track.points.map(({ timeS }) => ({
      timeS,
      stepRateSpm: null,
      quality: 0,
      state: "unknown",
      reason: "no-signal",
    })),
  };
}

function longestRunningPiece(contacts: readonly SoundContact[]): readonly number[] {
  let longest: readonly number[] = [];
  let current: number[] = [];
  let piece = -1;
  for (const contact of contacts) {
    if (contact.state !== "running") continue;
    if (contact.piece !== piece) current = [];
    piece = contact.piece;
    current.push(contact.timeS);
    if (current.length > longest.length) longest = current;
  }
  return longest;
}
