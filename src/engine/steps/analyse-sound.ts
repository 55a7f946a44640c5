// A sound recording of a runner to step rate windows, contacts and asymmetry.
import { type SoundRecording } from "../recordings/recording.ts";
import { type NoRateReason, type RateTrack } from "./rate-track.ts";
import { gatherWindows } from "./rate-windows.ts";
import { soundTimingAsymmetry } from "./sound-asymmetry.ts";
import { soundBands } from "./sound-bands.ts";
import { type SoundConfounds, confoundWarnings, findConfounds, onlyConfound } from "./sound-confounds.ts";
import { inspectSamples } from "./sound-inspect.ts";
import { type LoudnessTrend, loudnessTrend } from "./sound-loudness.ts";
import { soundOnsets } from "./sound-onsets.ts";
import { type SoundContact, followRhythm } from "./sound-rhythm.ts";
import { type StepAnalysis } from "./step-analysis.ts";

export interface SoundAnalysis extends StepAnalysis {
  /** Metronome and music in the clip; the warnings say it in words. */
  readonly confounds: SoundConfounds;
  readonly loudnessTrend: LoudnessTrend;
}

/** How well the onsets of two unlike sounds compare, standard error: measured on invented footfalls. */
const ONSET_ERROR_S = 0.002;

/**
 * Step rate, contacts and timing asymmetry from the sound of the feet: a phone beside a treadmill, at 4 kHz or more.
 *
 * Contacts are the moments at which the sound sets in, as a microphone hears them (343 m/s: 3 ms a metre late). Where it
 * cannot be told whether every sound or every second one is a step, the window has no rate and says so; standing cannot be
 * heard, so silence is "unknown". A metronome is taken out first; what is as even as a machine is never called steps. Loudness is only a trend within the clip. Cost: about 2 ms for a second of sound at
 * 44.1 kHz, 100 bytes of memory for each hundredth of a second. docs/method/sound.md has the model and its limits.
 */
export function analyseSound(recording: SoundRecording): SoundAnalysis {
  const { sampleRateHz } = recording;
  if (!(sampleRateHz >= 4000 && sampleRateHz <= 400_000))
    throw new RangeError(`analyseSound: sampleRateHz must be in [4000, 400000], got ${sampleRateHz}`);
  const { samples, silent, warnings } = inspectSamples(recording.samples);
  const bands = soundBands(samples, sampleRateHz);
  const confounds = findConfounds(samples, sampleRateHz);
  const rhythm = followRhythm(soundOnsets(bands, confounds.beats), confounds.evenLimitS);
  const only = onlyConfound(confounds, rhythm.track.points);
  const track = silent
    ? withoutRates(rhythm.track, "no-signal")
    : only
      ? withoutRates(rhythm.track, "no-rhythm")
      : rhythm.track;
  const contacts = silent || only ? [] : rhythm.contacts;
  const running = contacts.filter(({ state }) => state === "running");
  return {
    windows: gatherWindows(track, samples.length / sampleRateHz, recording.cueBlocks),
    stepTimesS: Float64Array.from(contacts, (contact) => contact.timeS),
    stepCount: contacts.length,
    timingAsymmetry: soundTimingAsymmetry(longestPiece(running), ONSET_ERROR_S),
    track,
    warnings: [...warnings, ...confoundWarnings(confounds, only, rhythm.tooEvenShare)],
    confounds,
    loudnessTrend: loudnessTrend(
      bands,
      running.map(({ timeS }) => timeS),
    ),
  };
}

function withoutRates(track: RateTrack, reason: NoRateReason): RateTrack {
  return {
    ...track,
    points: track.points.map(({ timeS }) => ({ timeS, stepRateSpm: null, quality: 0, state: "unknown", reason })),
  };
}

function longestPiece(contacts: readonly SoundContact[]): readonly number[] {
  let longest: readonly number[] = [];
  let current: number[] = [];
  let piece = -1;
  for (const contact of contacts) {
    if (contact.piece !== piece) current = [];
    piece = contact.piece;
    current.push(contact.timeS);
    if (current.length > longest.length) longest = current;
  }
  return longest;
}
