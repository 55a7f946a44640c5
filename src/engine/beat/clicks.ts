// The sounds of the beat, made by arithmetic: a few damped sines that swell for a millisecond, sum to zero and end in silence.
import {
  BEAT_RATE_LIMITS_SPM,
  CLICK_BAND_HZ,
  PEAK_CEILING_DBFS,
  RMS_CEILING_DBFS,
  SOFT_START_S,
} from "../evidence/beats.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { ANNOUNCEMENT_PEAK } from "./announcements.ts";
import { type StepEvent, type Voice } from "./schedule.ts";

export type ClickId = "wood" | "tick" | "knock" | "glass" | "drop";

interface DampedSine {
  readonly hz: number;
  readonly gain: number;
  /** Time to fall to 1/e. */
  readonly decayS: number;
  /** The pitch glides by this factor over the click; absent means it stays. */
  readonly glide?: number;
}

export interface ClickSound {
  readonly id: ClickId;
  /** What the coach sees. */
  readonly name: string;
  readonly description: string;
  readonly partials: readonly DampedSine[];
}

export const CLICK_SOUNDS: readonly ClickSound[] = [
  {
    id: "wood",
    name: "Wood",
    description: "Dry and clear, like a wood block",
    partials: [
      { hz: 1400, gain: 1, decayS: 0.009 },
      { hz: 2650, gain: 0.45, decayS: 0.005 },
    ],
  },
  {
    id: "tick",
    name: "Tick",
    description: "Short and bright, cuts through traffic",
    partials: [
      { hz: 2500, gain: 1, decayS: 0.004 },
      { hz: 3100, gain: 0.6, decayS: 0.003 },
    ],
  },
  {
    id: "knock",
    name: "Knock",
    description: "Lower and rounder, for a quiet path",
    partials: [
      { hz: 1250, gain: 1, decayS: 0.014 },
      { hz: 1730, gain: 0.5, decayS: 0.008 },
    ],
  },
  {
    id: "glass",
    name: "Glass",
    description: "Rings a little, easy to hear at low volume",
    partials: [
      { hz: 1900, gain: 1, decayS: 0.02 },
      { hz: 2870, gain: 0.35, decayS: 0.012 },
    ],
  },
  {
    id: "drop",
    name: "Drop",
    description: "A falling chirp, hard to mistake for anything on a street",
    partials: [{ hz: 2900, gain: 1, decayS: 0.014, glide: 0.55 }],
  },
];

const LENGTH_S = 0.07;
const FADE_S = 0.01;
/** 0.7 of full scale, −3 dBFS: with an announcement on top the sum stays below the peak ceiling. */
const PEAK = Math.floor(10 * (fromDb(PEAK_CEILING_DBFS.value) - ANNOUNCEMENT_PEAK)) / 10;
/** Sum of squares that one click may have: at the quickest beat there is, a second stays below the RMS ceiling. */
const LARGEST_ENERGY_S = fromDb(RMS_CEILING_DBFS.value) ** 2 / (BEAT_RATE_LIMITS_SPM.value.high / SECONDS_PER_MINUTE);
/** A minor third apart: told apart on a small speaker, and both still inside 1–4 kHz. */
const RIGHT_PITCH = 2 ** (3 / 12);
const COUNT_IN_PITCH = 2 ** (-3 / 12);
const ACCENT_DECAY = 2;

export interface ClickOptions {
  readonly sampleRateHz: number;
  readonly voice: Voice;
  readonly accent: boolean;
  readonly kind: StepEvent["kind"];
  /** True: both feet sound alike. */
  readonly onePitch?: boolean;
  /** The click begins this much after its first sample, −0.5 to 0.5 of a sample. Default 0. */
  readonly lateBySamples?: number;
}

/**
 * One click, 70 ms long, as samples in [−0.7, 0.7], all its partials inside the click band. Starts at 0, its swell lasts 1 ms, its mean is 0 (below 1e-7) and it
 * fades out in its last 10 ms. Accents ring twice as long at the same peak, count-ins are a minor third lower. Begun between
 * two samples, it is the same sound, sampled there.
 */
export function clickSamples(id: ClickId, options: ClickOptions): Float32Array {
  const sound = CLICK_SOUNDS.find((candidate) => candidate.id === id);
  if (sound === undefined) throw new RangeError(`clickSamples: unknown click "${id}"`);
  const { sampleRateHz, lateBySamples = 0 } = options;
  if (!(Math.abs(lateBySamples) <= 0.5))
    throw new RangeError(`clickSamples: lateBySamples must be −0.5 to 0.5, got ${lateBySamples}`);
  const pitch =
    (options.voice === "right" && options.onePitch !== true ? RIGHT_PITCH : 1) *
    (options.kind === "count-in" ? COUNT_IN_PITCH : 1);
  const decay = options.accent ? ACCENT_DECAY : 1;
  const count = Math.round(LENGTH_S * sampleRateHz);
  const raw = new Float64Array(count);
  const envelope = new Float64Array(count);
  const { low, high } = CLICK_BAND_HZ.value;
  if (sound.partials.some(({ hz, glide = 1 }) => pitch * hz > high || pitch * hz * glide < low))
    throw new RangeError(`clickSamples: "${id}" must stay within ${low} to ${high} Hz`);
  for (let index = 0; index < count; index += 1) {
    const timeS = (index - lateBySamples) / sampleRateHz;
    envelope[index] = swell(timeS / SOFT_START_S.value) * swell((LENGTH_S - timeS) / FADE_S);
    for (const partial of sound.partials)
      raw[index]! +=
        envelope[index]! *
        partial.gain *
        Math.exp(-timeS / (partial.decayS * decay)) *
        Math.sin(2 * Math.PI * pitch * glidingPhase(partial, timeS));
  }
  return Float32Array.from(scaleToCeilings(withoutMean(raw, envelope), sampleRateHz));
}

/** Cycles since the start of a pitch that moves evenly from hz to hz·glide over the click. */
function glidingPhase({ hz, glide = 1 }: DampedSine, timeS: number): number {
  return hz * (timeS + ((glide - 1) * timeS * timeS) / (2 * LENGTH_S));
}

/** Raised cosine from 0 at 0 to 1 at 1 and beyond. */
function swell(share: number): number {
  return share >= 1 ? 1 : (1 - Math.cos(Math.PI * Math.max(0, share))) / 2;
}

/** Takes the mean out in the shape of the envelope, so that the ends stay at zero. */
function withoutMean(samples: Float64Array, envelope: Float64Array): Float64Array {
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
  const share = sum(samples) / sum(envelope);
  return samples.map((value, index) => value - share * envelope[index]!);
}

/** As loud as both ceilings allow. */
function scaleToCeilings(samples: Float64Array, sampleRateHz: number): Float64Array {
  const loudest = samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const energyS = samples.reduce((sum, value) => sum + value * value, 0) / sampleRateHz;
  const scale = Math.min(PEAK / loudest, Math.sqrt(LARGEST_ENERGY_S / energyS));
  return samples.map((value) => value * scale);
}

function fromDb(levelDb: number): number {
  return 10 ** (levelDb / 20);
}
