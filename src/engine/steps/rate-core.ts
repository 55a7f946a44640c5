// The rate core: features in, one analysis each hop. Motion and sound, batch and live all run through this.
import { createRealFft, hannWindow, type RealFft } from "../signal/real-fft.ts";
import { createCombModel, type CombFit } from "./comb-model.ts";
import { RATE_GRID, STATE_COUNT, weighStates } from "./movement-states.ts";
import { type WindowFacts } from "./decide-point.ts";
import { type FeatureContent } from "./rate-track.ts";

export const WINDOW_S = 5;
/** The first windows are shorter, so that the first answer comes early. */
const FIRST_WINDOW_S = 4;

/** Slower movement is turning, not shaking. */
const LOW_HZ = 0.5;

export interface RateCoreOptions {
  readonly featureRateHz: number;
  readonly groupSizes: readonly number[];
  readonly content: FeatureContent;
  readonly hopS: number;
  /** Called after each window. Everything handed over is reused: copy what you keep. */
  readonly onWindow: (facts: WindowFacts, evidence: Float64Array, fit: CombFit) => void;
}

export interface RateCore {
  /** One feature vector; no allocation. */
  push(values: Float64Array, measured: boolean): void;
  /** Forgets everything; the next feature has this time. */
  begin(timeS: number): void;
  /** Analyses what is there now, if enough and if not just done: the end of a recording. */
  finish(): void;
  /** Time of the latest feature. */
  latestS(): number;
  /** The latest `count` values of a channel, oldest first, into `out`. */
  recent(channel: number, count: number, out: Float64Array): void;
}

export function createRateCore(options: RateCoreOptions): RateCore {
  const { featureRateHz, groupSizes, content } = options;
  const windowLength = Math.round(WINDOW_S * featureRateHz);
  const firstLength = Math.round(FIRST_WINDOW_S * featureRateHz);
  const hopLength = Math.max(1, Math.round(options.hopS * featureRateHz));
  const channelCount = groupSizes.reduce((sum, size) => sum + size, 0);
  let size = 4;
  while (size < 2 * windowLength) size *= 2;
  const fft = createRealFft(size);
  const comb = createCombModel(
    { ...RATE_GRID, topHz: Math.min(RATE_GRID.topHz, 0.45 * featureRateHz) },
    featureRateHz / size,
  );
  const topBin = Math.min(size / 2, comb.topBin);
  const lowBin = Math.ceil((LOW_HZ * size) / featureRateHz);
  const fit = comb.createFit();
  const evidence = new Float64Array(STATE_COUNT);
  // Every value is written twice, a window apart, so that the latest window always lies in one piece.
  const rings = Array.from({ length: channelCount }, () => new Float64Array(2 * windowLength));
  const measuredRing = new Uint8Array(windowLength);
  const spectra = groupSizes.map(() => new Float64Array(size / 2 + 1));
  const groupOf = groupSizes.flatMap((count, group) => Array.from({ length: count }, () => group));
  const tapers = new Map<number, Taper>();
  let scratch: readonly [Float64Array, Float64Array] = [new Float64Array(0), new Float64Array(0)];
  let startS = 0;
  let pushed = 0;
  let measuredCount = 0;
  let analysedAt = -1;

  const taperOf = (length: number): Taper => {
    let found = tapers.get(length);
    if (found === undefined) {
      found = makeTaper(length);
      // Odd lengths come only from the ends of recordings: keep the map small.
      if (tapers.size < 8) tapers.set(length, found);
    }
    return found;
  };
  const analyse = (): void => {
    analysedAt = pushed;
    const length = Math.min(pushed, windowLength);
    const { window, sum, sumOfSquares } = taperOf(length);
    if (scratch[0].length !== length) scratch = [new Float64Array(length), new Float64Array(length)];
    for (const spectrum of spectra) spectrum.fill(0);
    const squares = addSpectra(fft, rings, pushed, window, scratch, groupOf, spectra, topBin);
    comb.fit(spectra, (size * sumOfSquares) / (sum * sum), fit);
    // Parseval: the tapered values hold the power of all bins, both signs of frequency; the slow turning is taken out.
    const first = spectra[0]!;
    let slow = first[0]!;
    for (let b = 1; b < lowBin; b += 1) slow += 2 * first[b]!;
    const rms = Math.sqrt(Math.max(0, squares - slow / size) / sumOfSquares);
    weighStates(fit, rms, content, evidence);
    options.onWindow(
      {
        timeS: startS + (pushed - length / 2) / featureRateHz,
        measuredShare: measuredCount / length,
        windowS: length / featureRateHz,
        rms,
        content,
      },
      evidence,
      fit,
    );
  };
  return {
    push(values, measured) {
      const at = pushed % windowLength;
      for (let c = 0; c < channelCount; c += 1) {
        const ring = rings[c]!;
        ring[at] = values[c]!;
        ring[at + windowLength] = values[c]!;
      }
      const isMeasured = measured ? 1 : 0;
      measuredCount += isMeasured - measuredRing[at]!;
      measuredRing[at] = isMeasured;
      pushed += 1;
      if (pushed >= firstLength && (pushed - firstLength) % hopLength === 0) analyse();
    },
    begin(timeS) {
      startS = timeS;
      pushed = 0;
      analysedAt = -1;
      measuredCount = 0;
      measuredRing.fill(0);
    },
    finish() {
      if (pushed > analysedAt && pushed >= Math.round(0.75 * firstLength)) analyse();
    },
    latestS: () => startS + (pushed - 1) / featureRateHz,
    recent(channel, count, out) {
      const ring = rings[channel]!;
      const from = (pushed - count) % windowLength;
      for (let i = 0; i < count; i += 1) out[i] = ring[from + i]!;
    },
  };
}

interface Taper {
  readonly window: Float64Array;
  readonly sum: number;
  readonly sumOfSquares: number;
}

function makeTaper(length: number): Taper {
  const window = hannWindow(length);
  let sum = 0;
  let sumOfSquares = 0;
  for (const weight of window) {
    sum += weight;
    sumOfSquares += weight * weight;
  }
  return { window, sum, sumOfSquares };
}

/**
 * Adds the tapered power of each channel to its group, two channels a transform, up to bin `topBin`. Returns the sum of the
 * first group's squared tapered values.
 */
function addSpectra(
  fft: RealFft,
  rings: readonly Float64Array[],
  pushed: number,
  window: Float64Array,
  scratch: readonly [Float64Array, Float64Array],
  groupOf: readonly number[],
  spectra: readonly Float64Array[],
  topBin: number,
): number {
  const from = (pushed - window.length) % (rings[0]!.length / 2);
  const [first, second] = scratch;
  let squares = 0;
  for (let c = 0; c < rings.length; c += 2) {
    const spectrum = spectra[groupOf[c]!]!;
    squares += taper(rings[c]!, from, window, first) * (groupOf[c] === 0 ? 1 : 0);
    if (c + 1 === rings.length) fft.addPower(first, spectrum);
    else {
      squares += taper(rings[c + 1]!, from, window, second) * (groupOf[c + 1] === 0 ? 1 : 0);
      fft.addPowerOfTwo(first, second, spectrum, spectra[groupOf[c + 1]!]!, topBin);
    }
  }
  return squares;
}

/** The latest values less their mean, tapered, into `out`. Returns the sum of their squares. */
function taper(ring: Float64Array, from: number, window: Float64Array, out: Float64Array): number {
  const length = window.length;
  // Two sums at a time: each addition waits for the one before.
  let even = 0;
  let odd = 0;
  for (let i = 1; i < length; i += 2) {
    even += ring[from + i - 1]!;
    odd += ring[from + i]!;
  }
  if (length % 2 === 1) even += ring[from + length - 1]!;
  const mean = (even + odd) / length;
  let squares = 0;
  for (let i = 0; i < length; i += 1) {
    const value = (ring[from + i]! - mean) * window[i]!;
    out[i] = value;
    squares += value * value;
  }
  return squares;
}
