// One invented footfall: a thump of the body and the ground, a burst of the sole, grains that roll, a second tap.
import { type Random } from "../quantities/random.ts";
import { bandNoise } from "./sound-noise.ts";

export type SoundSurface = "belt" | "gravel" | "track" | "floor" | "grass";

interface SurfaceSound {
  readonly thumpHz: number;
  readonly thumpGain: number;
  readonly burstLowHz: number;
  readonly burstHighHz: number;
  readonly burstAttackS: number;
  readonly burstDecayS: number;
  readonly burstGain: number;
  /** Grains per second that the foot sets moving while it is down. */
  readonly grainsPerS: number;
  readonly grainGain: number;
}

// Invented characters, from how such surfaces sound: no recording stands behind them.
const SURFACES: Readonly<Record<SoundSurface, SurfaceSound>> = {
  belt: {
    thumpHz: 85,
    thumpGain: 1,
    burstLowHz: 150,
    burstHighHz: 1800,
    burstAttackS: 0.002,
    burstDecayS: 0.035,
    burstGain: 1,
    grainsPerS: 0,
    grainGain: 0,
  },
  gravel: {
    thumpHz: 70,
    thumpGain: 0.3,
    burstLowHz: 900,
    burstHighHz: 7000,
    burstAttackS: 0.008,
    burstDecayS: 0.06,
    burstGain: 0.7,
    grainsPerS: 500,
    grainGain: 0.6,
  },
  track: {
    thumpHz: 110,
    thumpGain: 0.5,
    burstLowHz: 250,
    burstHighHz: 2500,
    burstAttackS: 0.003,
    burstDecayS: 0.03,
    burstGain: 1,
    grainsPerS: 20,
    grainGain: 0.1,
  },
  floor: {
    thumpHz: 140,
    thumpGain: 0.8,
    burstLowHz: 300,
    burstHighHz: 5000,
    burstAttackS: 0.001,
    burstDecayS: 0.025,
    burstGain: 1.2,
    grainsPerS: 0,
    grainGain: 0,
  },
  grass: {
    thumpHz: 60,
    thumpGain: 0.8,
    burstLowHz: 500,
    burstHighHz: 4000,
    burstAttackS: 0.015,
    burstDecayS: 0.05,
    burstGain: 0.5,
    grainsPerS: 150,
    grainGain: 0.25,
  },
};

export interface FootfallVoice {
  readonly surface: SoundSurface;
  /** 1 is the surface's own pitch; shoes and side change it. */
  readonly pitchRatio: number;
  /** From first contact to a second tap (heel, then forefoot), seconds; 0 for none. */
  readonly secondTapS: number;
  /** Loudness of the second tap against the first. */
  readonly secondTapGain: number;
}

/** The sound of one contact, from the instant of contact on: 0.3 s at `sampleRateHz`. Each call differs a little. */
export function footfallSound(random: Random, voice: FootfallVoice, sampleRateHz: number): Float64Array {
  const sound = new Float64Array(Math.round(0.3 * sampleRateHz));
  tap(random, sound, voice, sampleRateHz, 0, 1);
  if (voice.secondTapS > 0)
    tap(random, sound, voice, sampleRateHz, voice.secondTapS * (1 + 0.1 * random.normal()), voice.secondTapGain);
  return sound;
}

function tap(
  random: Random,
  sound: Float64Array,
  voice: FootfallVoice,
  sampleRateHz: number,
  atS: number,
  gain: number,
): void {
  const surface = SURFACES[voice.surface];
  const start = Math.max(0, Math.round(atS * sampleRateHz));
  const length = sound.length - start;
  if (length <= 0) return;
  const noise = bandNoise(random, length, {
    sampleRateHz,
    lowHz: surface.burstLowHz * voice.pitchRatio,
    highHz: surface.burstHighHz * voice.pitchRatio,
  });
  const thumpHz = surface.thumpHz * voice.pitchRatio * (1 + 0.05 * random.normal());
  const contactS = 0.16;
  let grain = 0;
  for (let index = 0; index < length; index += 1) {
    const timeS = index / sampleRateHz;
    const burst = (1 - Math.exp(-timeS / surface.burstAttackS)) * Math.exp(-timeS / surface.burstDecayS);
    const thump = Math.sin(2 * Math.PI * thumpHz * timeS) * Math.exp(-timeS / 0.04);
    if (timeS < contactS && random.next() < surface.grainsPerS / sampleRateHz) grain = 1 + random.next();
    grain *= Math.exp(-1 / (0.002 * sampleRateHz));
    const value =
      surface.thumpGain * 0.5 * thump + noise[index]! * (surface.burstGain * burst + surface.grainGain * grain);
    sound[start + index] = sound[start + index]! + gain * value;
  }
}
