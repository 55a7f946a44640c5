// What can be mistaken for feet: a metronome's clicks and music.
import { type Random } from "../quantities/random.ts";
import { stepIntervalS } from "../quantities/units.ts";
import { mixInto, normalisePower } from "./sound-noise.ts";

export interface MetronomeOptions {
  readonly beatsPerMinute: number;
  readonly firstBeatS: number;
  readonly pitchHz: number;
  /** 0: a clean electronic tone; 1: a knock with its own overtones. */
  readonly woodShare: number;
  /** Every so many beats sounds a fifth higher; 0 for never. */
  readonly accentEvery: number;
}

/** Identical clicks at exact times, peak 1. */
export function metronomeSound(sampleCount: number, sampleRateHz: number, options: MetronomeOptions): Float64Array {
  const samples = new Float64Array(sampleCount);
  const intervalS = stepIntervalS(options.beatsPerMinute);
  for (let beat = 0; ; beat += 1) {
    const start = Math.round((options.firstBeatS + beat * intervalS) * sampleRateHz);
    if (start >= sampleCount) return samples;
    const accent = options.accentEvery > 0 && beat % options.accentEvery === 0;
    mixInto(samples, click(sampleRateHz, options, accent ? 1.5 : 1), start, 1);
  }
}

function click(sampleRateHz: number, options: MetronomeOptions, pitchRatio: number): Float64Array {
  const sound = new Float64Array(Math.round(0.06 * sampleRateHz));
  const pitchHz = Math.min(options.pitchHz * pitchRatio, 0.4 * sampleRateHz);
  for (let index = 0; index < sound.length; index += 1) {
    const timeS = index / sampleRateHz;
    const tone = Math.sin(2 * Math.PI * pitchHz * timeS);
    const wood = pitchHz * 2.756 < sampleRateHz / 2 ? Math.sin(2 * Math.PI * pitchHz * 2.756 * timeS) : 0;
    sound[index] = (tone + options.woodShare * wood) * Math.exp(-timeS / 0.012);
  }
  return sound;
}

/** Chords that hold, a bass and an off-beat: music at `beatsPerMinute`, root mean square 1. */
export function musicSound(
  random: Random,
  sampleCount: number,
  sampleRateHz: number,
  beatsPerMinute: number,
): Float64Array {
  const samples = new Float64Array(sampleCount);
  const beatS = stepIntervalS(beatsPerMinute);
  const roots = [0, 9, 5, 7];
  for (let beat = 0; beat * beatS * sampleRateHz < sampleCount; beat += 1) {
    const root = 196 * 2 ** (roots[Math.floor(beat / 4) % 4]! / 12);
    const start = Math.round(beat * beatS * sampleRateHz);
    mixInto(samples, note(sampleRateHz, root / 2, 0.9 * beatS, 0.15), start, 0.8);
    if (beat % 4 === 0)
      for (const ratio of [1, 1.25, 1.5, 2])
        mixInto(samples, note(sampleRateHz, root * ratio, 4 * beatS, 2), start, 0.5);
    if (random.next() < 0.6) {
      const step = [0, 2, 4, 7, 9][random.below(5)]!;
      mixInto(
        samples,
        note(sampleRateHz, 392 * 2 ** (step / 12), beatS, 0.3),
        start + Math.round((beatS / 2) * sampleRateHz),
        0.5,
      );
    }
  }
  return normalisePower(samples);
}

function note(sampleRateHz: number, pitchHz: number, durationS: number, decayS: number): Float64Array {
  const sound = new Float64Array(Math.round(durationS * sampleRateHz));
  for (let harmonic = 1; harmonic <= 6 && harmonic * pitchHz < 0.45 * sampleRateHz; harmonic += 1)
    for (let index = 0; index < sound.length; index += 1) {
      const timeS = index / sampleRateHz;
      const attack = Math.min(1, timeS / 0.01) * Math.min(1, (durationS - timeS) / 0.02);
      sound[index] =
        sound[index]! +
        (attack * Math.exp(-timeS / decayS) * Math.sin(2 * Math.PI * harmonic * pitchHz * timeS)) / harmonic;
    }
  return sound;
}
