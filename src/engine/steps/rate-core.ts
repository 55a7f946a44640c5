// The rate core: features in, one analysis each hop. Motion and sound, batch and live all run through this.
import { createRealFft, hannWindow, type RealFft } from "../signal/real-fft.ts";
import { createCombModel, type CombFit } from "./comb-model.ts";
import { RATE_GRID, STATE_COUNT, weighStates } from "./movement-states.ts";
import { type WindowFacts } from "./decide-point.ts";
import { type FeatureContent } from "./rate-track.ts";

export const WINDOW_S = 5;
/** The first windows are shorter, so that the first answer comes early. */
const FIRST_WINDOW_S = 4;

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

  const taper = (length: number): Taper => {
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
    const { window, sum, sumOfSquares } = taper(length);
    if (scratch[0].length !== length) scratch = [new Float64Array(length), new Float64Array(length)];
    for (const spectrum of spectra) spectrum.fill(0);
    addSpectra(fft, rings, pushed, window, scratch, groupOf, spectra);
    comb.fit(spectra, (size * sumOfSquares) / (sum * sum), fit);
    // Parseval: both signs of frequency, the window's power taken out.
    const first = spectra[0]!;
    let power = 0;
    for (let b = Math.ceil((0.5 * size) / featureRateHz); b < first.length; b += 1) power += 2 * first[b]!;
    const rms = Math.sqrt(power / (size * sumOfSquares));
    weighStates(fit, rms, content, evidence);
    options.onWindow(
      {
        timeS: startS + (pushed - length / 2) / featureRateHz,
        measuredShare: measuredCount / length,
        windowS: length / featureRateHz,
        rms,
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

/** Adds the tapered power of each channel to its group, two channels a transform. */
function addSpectra(
  fft: RealFft,
  rings: readonly Float64Array[],
  pushed: number,
  window: Float64Array,
  scratch: readonly [Float64Array, Float64Array],
  groupOf: readonly number[],
  spectra: readonly Float64Array[],
): void {
  const length = window.length;
  for (let c = 0; c < rings.length; c += 2) {
    const pair = c + 1 < rings.length ? 2 : 1;
    for (let p = 0; p < pair; p += 1) {
      const ring = rings[c + p]!;
      const out = scratch[p]!;
      const from = (pushed - length) % (ring.length / 2);
      let mean = 0;
      for (let i = 0; i < length; i += 1) mean += ring[from + i]!;
      mean /= length;
      for (let i = 0; i < length; i += 1) out[i] = (ring[from + i]! - mean) * window[i]!;
    }
    const first = spectra[groupOf[c]!]!;
    if (pair === 2) fft.addPowerOfTwo(scratch[0], scratch[1], first, spectra[groupOf[c + 1]!]!);
    else fft.addPower(scratch[0], first);
  }
}
