// Invented sound of a runner, with the time of every contact known.
import { createRandom } from "../quantities/random.ts";
import { stepIntervalS } from "../quantities/units.ts";
import { type SoundRecording } from "../recordings/recording.ts";
import { type SoundBackground, backgroundSound } from "./sound-background.ts";
import { type MetronomeOptions, metronomeSound, musicSound } from "./sound-beats.ts";
import { type SoundSurface, footfallSound } from "./sound-footfall.ts";
import { gainFromDb, mixInto, normalisePower } from "./sound-noise.ts";

export interface SoundSceneOptions {
  readonly seed: number;
  readonly durationS: number;
  readonly sampleRateHz: number;
  /** Both feet, at each time; 0 for no steps at all. */
  readonly stepRateSpm: (timeS: number) => number;
  /** Spread of single step times, share of a step; default 0.02. */
  readonly jitterShare?: number;
  /** Difference of the two alternating step times over their mean, percent; default 2. */
  readonly asymmetryPercent?: number;
  readonly surface: SoundSurface;
  /** The other foot's loudness against the first, dB; default −3. */
  readonly otherFootDb?: number;
  /** The other foot's pitch against the first; default 1.15. */
  readonly otherFootPitchRatio?: number;
  /** Heel to forefoot, seconds; default 0 (one sound a contact). */
  readonly secondTapS?: number;
  readonly background?: SoundBackground;
  /** Mean power of the footfalls over mean power of the background, dB; default 20. */
  readonly signalToNoiseDb?: number;
  /** Peak of the clicks over the loudest footfall, dB. */
  readonly metronome?: MetronomeOptions & { readonly levelDb: number };
  /** Mean power over that of the footfalls, dB. */
  readonly music?: { readonly beatsPerMinute: number; readonly levelDb: number };
  /** Footfall loudness changes by so much from start to end, dB; default 0. */
  readonly loudnessChangeDb?: number;
}

export interface SoundScene {
  readonly recording: SoundRecording;
  /** Instant of contact of every footfall, ascending. */
  readonly stepTimesS: Float64Array;
}

/** Footfalls by the given rate, with background, metronome and music on request. The same seed gives the same samples. */
export function createSoundScene(options: SoundSceneOptions): SoundScene {
  const { durationS, sampleRateHz } = options;
  const random = createRandom(options.seed);
  const sampleCount = Math.round(durationS * sampleRateHz);
  const stepTimesS = stepTimes(options, random);
  const feet = new Float64Array(sampleCount);
  let index = 0;
  for (const timeS of stepTimesS) {
    const other = index % 2 === 1;
    const sound = footfallSound(
      random,
      {
        surface: options.surface,
        pitchRatio: other ? (options.otherFootPitchRatio ?? 1.15) : 1,
        secondTapS: options.secondTapS ?? 0,
        secondTapGain: 0.6,
      },
      sampleRateHz,
    );
    const levelDb =
      (other ? (options.otherFootDb ?? -3) : 0) +
      1.5 * random.normal() +
      ((options.loudnessChangeDb ?? 0) * timeS) / durationS;
    mixInto(feet, sound, Math.round(timeS * sampleRateHz), gainFromDb(levelDb));
    index += 1;
  }
  if (stepTimesS.length > 0) normalisePower(feet);
  const mixed = feet.slice();
  if (options.background !== undefined)
    mixInto(
      mixed,
      backgroundSound(random, options.background, sampleCount, sampleRateHz),
      0,
      gainFromDb(-(options.signalToNoiseDb ?? 20)),
    );
  if (options.metronome !== undefined) {
    const loudest = stepTimesS.length > 0 ? peakOf(feet) : 1;
    const clicks = metronomeSound(sampleCount, sampleRateHz, options.metronome);
    mixInto(mixed, clicks, 0, loudest * gainFromDb(options.metronome.levelDb));
  }
  if (options.music !== undefined)
    mixInto(
      mixed,
      musicSound(random, sampleCount, sampleRateHz, options.music.beatsPerMinute),
      0,
      gainFromDb(options.music.levelDb),
    );
  const peak = peakOf(mixed);
  const samples = Float32Array.from(mixed, (value) => (peak > 0 ? (0.7 * value) / peak : 0));
  return { recording: { kind: "sound", sampleRateHz, samples, cueBlocks: [] }, stepTimesS };
}

function stepTimes(options: SoundSceneOptions, random: ReturnType<typeof createRandom>): Float64Array {
  const times: number[] = [];
  const asymmetry = (options.asymmetryPercent ?? 2) / 100;
  let gridS = 0.1 + 0.3 * random.next();
  for (let count = 0; gridS < options.durationS - 0.05; ) {
    const rateSpm = options.stepRateSpm(gridS);
    if (rateSpm <= 0) {
      gridS += 0.1;
      continue;
    }
    const intervalS = stepIntervalS(rateSpm);
    // Jitter is on the single time, so that it does not add up; the rate stays what was asked for.
    times.push(Math.max(0, gridS + (options.jitterShare ?? 0.02) * intervalS * random.normal()));
    gridS += intervalS * (1 + (count % 2 === 0 ? asymmetry : -asymmetry) / 2);
    count += 1;
  }
  return Float64Array.from(times);
}

function peakOf(samples: Float64Array): number {
  let peak = 0;
  for (let index = 0; index < samples.length; index += 1) peak = Math.max(peak, Math.abs(samples[index]!));
  return peak;
}
