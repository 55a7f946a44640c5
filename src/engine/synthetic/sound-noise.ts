// Coloured noise for invented sound.
import { type Random } from "../quantities/random.ts";

/** White noise of standard deviation 1, high-passed and low-passed by two one-pole filters each (12 dB per octave). */
export function bandNoise(
  random: Random,
  sampleCount: number,
  options: { readonly sampleRateHz: number; readonly lowHz: number; readonly highHz: number },
): Float64Array {
  const noise = new Float64Array(sampleCount);
  for (let index = 0; index < sampleCount; index += 1) noise[index] = random.normal();
  for (let pass = 0; pass < 2; pass += 1) {
    lowPass(noise, options.highHz / options.sampleRateHz);
    highPass(noise, options.lowHz / options.sampleRateHz);
  }
  return noise;
}

function lowPass(samples: Float64Array, cutoffPerSample: number): void {
  const keep = Math.exp(-2 * Math.PI * Math.min(cutoffPerSample, 0.5));
  let state = 0;
  for (let index = 0; index < samples.length; index += 1) {
    state += (1 - keep) * (samples[index]! - state);
    samples[index] = state;
  }
}

function highPass(samples: Float64Array, cutoffPerSample: number): void {
  const keep = Math.exp(-2 * Math.PI * Math.min(cutoffPerSample, 0.5));
  let state = 0;
  for (let index = 0; index < samples.length; index += 1) {
    state += (1 - keep) * (samples[index]! - state);
    samples[index] = samples[index]! - state;
  }
}

/** Scales in place to root mean square 1; silence stays silence. */
export function normalisePower(samples: Float64Array): Float64Array {
  let power = 0;
  for (let index = 0; index < samples.length; index += 1) power += samples[index]! ** 2;
  const rms = Math.sqrt(power / samples.length);
  if (rms > 0) for (let index = 0; index < samples.length; index += 1) samples[index] = samples[index]! / rms;
  return samples;
}

/** Adds `gain`·`what` into `samples` from `startIndex`, as far as it fits. */
export function mixInto(samples: Float64Array, what: Float64Array, startIndex: number, gain: number): void {
  const from = Math.max(0, -startIndex);
  const to = Math.min(what.length, samples.length - startIndex);
  for (let index = from; index < to; index += 1)
    samples[startIndex + index] = samples[startIndex + index]! + gain * what[index]!;
}

export function gainFromDb(levelDb: number): number {
  return 10 ** (levelDb / 20);
}
