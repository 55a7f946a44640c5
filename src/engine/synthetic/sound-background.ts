// What else a phone hears: wind, traffic, a belt's motor, people talking, plain hiss. Each comes out at root mean square 1.
import { type Random } from "../quantities/random.ts";
import { bandNoise, mixInto, normalisePower } from "./sound-noise.ts";

export type SoundBackground = "hiss" | "wind" | "traffic" | "belt-hum" | "talk";

export function backgroundSound(
  random: Random,
  kind: SoundBackground,
  sampleCount: number,
  sampleRateHz: number,
): Float64Array {
  switch (kind) {
    case "hiss":
      return normalisePower(bandNoise(random, sampleCount, { sampleRateHz, lowHz: 0, highHz: sampleRateHz }));
    case "wind":
      return normalisePower(
        swell(random, bandNoise(random, sampleCount, { sampleRateHz, lowHz: 20, highHz: 300 }), sampleRateHz, 0.8),
      );
    case "traffic":
      return normalisePower(
        swell(random, bandNoise(random, sampleCount, { sampleRateHz, lowHz: 50, highHz: 900 }), sampleRateHz, 4),
      );
    case "belt-hum":
      return normalisePower(hum(random, sampleCount, sampleRateHz));
    case "talk":
      return normalisePower(talk(random, sampleCount, sampleRateHz));
  }
}

/** Slow rise and fall of loudness, by a factor of about ten, with the given time constant. */
function swell(random: Random, noise: Float64Array, sampleRateHz: number, timeConstantS: number): Float64Array {
  const keep = Math.exp(-1 / (timeConstantS * sampleRateHz));
  let level = random.normal();
  for (let index = 0; index < noise.length; index += 1) {
    level = keep * level + Math.sqrt(1 - keep * keep) * random.normal();
    noise[index] = noise[index]! * Math.exp(0.8 * level);
  }
  return noise;
}

function hum(random: Random, sampleCount: number, sampleRateHz: number): Float64Array {
  const samples = bandNoise(random, sampleCount, { sampleRateHz, lowHz: 100, highHz: 1500 });
  const baseHz = 95 + 20 * random.next();
  for (let index = 0; index < sampleCount; index += 1) {
    const angle = (2 * Math.PI * baseHz * index) / sampleRateHz;
    samples[index] =
      samples[index]! + 0.5 * Math.sin(angle) + 0.3 * Math.sin(2 * angle + 1) + 0.2 * Math.sin(5 * angle + 2);
  }
  return samples;
}

/** Syllables: voiced, 80 to 250 ms, pauses in between, pitch wandering. Irregular on purpose. */
function talk(random: Random, sampleCount: number, sampleRateHz: number): Float64Array {
  const samples = new Float64Array(sampleCount);
  let at = 0;
  let pitchHz = 110 + 80 * random.next();
  while (at < sampleCount) {
    const length = Math.round((0.08 + 0.17 * random.next()) * sampleRateHz);
    const syllable = new Float64Array(length);
    pitchHz = Math.min(250, Math.max(80, pitchHz * (1 + 0.06 * random.normal())));
    const formantHz = 350 + 900 * random.next();
    for (let harmonic = 1; harmonic * pitchHz < Math.min(3500, sampleRateHz / 2); harmonic += 1) {
      const strength = 1 / (1 + ((harmonic * pitchHz - formantHz) / 250) ** 2) + 0.05;
      for (let index = 0; index < length; index += 1)
        syllable[index] =
          syllable[index]! +
          strength *
            Math.sin((2 * Math.PI * harmonic * pitchHz * index) / sampleRateHz) *
            Math.sin((Math.PI * index) / length);
    }
    mixInto(samples, syllable, at, 0.5 + random.next());
    at +=
      length +
      Math.round((random.next() < 0.2 ? 0.3 + 0.8 * random.next() : 0.02 + 0.08 * random.next()) * sampleRateHz);
  }
  return samples;
}
