// How much the two alternating step times differ: the mean impact of one foot is slid over the other's.
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";
import { type FeatureStretch } from "./feature-store.ts";
import { type MovingSpan } from "./moving-spans.ts";
import { type StepPhase } from "./step-phase.ts";

export interface TimingAsymmetry {
  /** Percent, never negative: the sensor does not know left from right. */
  readonly percent: Uncertain | NotEnough;
  /** Steps of odd number come this much later than half-way, in steps; 0 when not known. */
  readonly oddDelaySteps: number;
}

const BINS_PER_STEP = 50;
const STRIDES_PER_BLOCK = 8;
const LEAST_BLOCKS = 5;
/** Half of the stretch around the impact that is compared, in steps. */
const REACH_BINS = Math.round(0.2 * BINS_PER_STEP);
/** Largest delay looked for, in steps: 20 % of difference. */
const MOST_DELAY_BINS = Math.round(0.1 * BINS_PER_STEP);
/** Below this correlation the two feet look too different for their times to be compared: the sensor sits on a limb. */
const LEAST_LIKENESS = 0.9;
/** At least this share of the mean shape's variance must repeat with every step. */
const LEAST_STEP_SHARE = 0.93;
/** Impacts of unlike shape shift the match by about this much whatever the number of steps: by simulation, percent. */
const SHAPE_ERROR_PERCENT = 1.2;

export function measureTimingAsymmetry(stretch: FeatureStretch, span: MovingSpan, phase: StepPhase): TimingAsymmetry {
  const shapes = foldBlocks(stretch.body, span.from, phase.steps);
  const blocks = shapes.map(risesOf);
  const unknown = (need: string, have: string): TimingAsymmetry => ({
    percent: { kind: "not-enough", need, have },
    oddDelaySteps: 0,
  });
  if (blocks.length < LEAST_BLOCKS)
    return unknown(
      `${LEAST_BLOCKS * STRIDES_PER_BLOCK} strides of running in one piece`,
      `${blocks.length * STRIDES_PER_BLOCK} strides`,
    );
  const whole = meanOf(blocks);
  const evenness = stepShare(meanOf(shapes));
  const centre = impactBin(whole);
  const { likeness, delayBins } = slide(whole, centre);
  if (evenness < LEAST_STEP_SHARE || likeness < LEAST_LIKENESS || Math.abs(delayBins) > MOST_DELAY_BINS - 0.5)
    return unknown(
      "a sensor that feels both feet alike, as at the waist",
      "the two feet look different to this sensor",
    );
  const delays = blocks.map((block) => slide(block, centre).delayBins / BINS_PER_STEP);
  const mean = delays.reduce((sum, delay) => sum + delay, 0) / delays.length;
  const variance = delays.reduce((sum, delay) => sum + (delay - mean) ** 2, 0) / (delays.length - 1);
  // Odd steps later by d: one step lasts 1 + d, the next 1 − d; their difference over the mean is 2d.
  const standardError = Math.hypot(200 * Math.sqrt(variance / delays.length), SHAPE_ERROR_PERCENT);
  const estimate = 200 * Math.abs(mean);
  return {
    percent: {
      estimate,
      standardError,
      interval95: { low: Math.max(0, estimate - 1.96 * standardError), high: estimate + 1.96 * standardError },
      sampleCount: delays.length,
      method: `mean impacts of the two feet compared, in blocks of ${STRIDES_PER_BLOCK} strides`,
    },
    oddDelaySteps: mean,
  };
}

/** Mean shape over the stride of each whole block of strides; the even step's half begins the array. */
function foldBlocks(channel: Float32Array, from: number, steps: Float64Array): Float64Array[] {
  const size = 2 * BINS_PER_STEP;
  const blocks: Float64Array[] = [];
  const sums = new Float64Array(size);
  const counts = new Float64Array(size);
  const firstStride = Math.ceil((steps[0]! + 0.5) / 2);
  let block = 0;
  for (let i = 0; i < steps.length; i += 1) {
    const stride = (steps[i]! + 0.5) / 2 - firstStride; // an even step's phase 0 lies at a quarter
    if (stride < 0) continue;
    const index = Math.floor(stride / STRIDES_PER_BLOCK);
    if (index > block) {
      const mean = sums.map((sum, b) => sum / counts[b]!);
      if (mean.every(Number.isFinite)) blocks.push(mean);
      sums.fill(0);
      counts.fill(0);
      block = index;
    }
    // Shared between the two nearest bins, so that the fold has no steps of its own.
    const at = (stride - Math.floor(stride)) * size;
    const bin = Math.floor(at);
    const share = at - bin;
    const value = channel[from + i]!;
    sums[bin]! += (1 - share) * value;
    counts[bin]! += 1 - share;
    const next = bin + 1 === size ? 0 : bin + 1;
    sums[next]! += share * value;
    counts[next]! += share;
  }
  return blocks;
}

function meanOf(blocks: readonly Float64Array[]): Float64Array {
  const mean = new Float64Array(2 * BINS_PER_STEP);
  for (const block of blocks) for (let b = 0; b < mean.length; b += 1) mean[b]! += block[b]! / blocks.length;
  return mean;
}

/** Share of a stride shape's variance that both of its halves have in common. */
function stepShare(stride: Float64Array): number {
  let mean = 0;
  for (const value of stride) mean += value / stride.length;
  let common = 0;
  let total = 0;
  for (let b = 0; b < BINS_PER_STEP; b += 1) {
    const even = stride[b]! - mean;
    const odd = stride[b + BINS_PER_STEP]! - mean;
    common += (even + odd) ** 2 / 2;
    total += even ** 2 + odd ** 2;
  }
  return total > 0 ? common / total : 0;
}

/** How fast the channel rises, zero where it falls: a landing is the sharpest rise of the step. */
function risesOf(stride: Float64Array): Float64Array {
  return stride.map((_, b) => Math.max(0, wrapped(stride, b + 2) - wrapped(stride, b - 2)));
}

/** Bin of the step (0 … BINS_PER_STEP−1) where both feet together are strongest. */
function impactBin(stride: Float64Array): number {
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let b = 0; b < BINS_PER_STEP; b += 1) {
    let sum = 0;
    for (let o = -2; o <= 2; o += 1) sum += wrapped(stride, b + o) + wrapped(stride, b + BINS_PER_STEP + o);
    if (sum > most) {
      most = sum;
      best = b;
    }
  }
  return best;
}

function wrapped(stride: Float64Array, index: number): number {
  const size = stride.length;
  return stride[((index % size) + size) % size]!;
}

/** Best shift of the odd step's impact against the even one's, by normalised correlation, with its value there. */
function slide(stride: Float64Array, centre: number): { readonly delayBins: number; readonly likeness: number } {
  const likenesses: number[] = [];
  for (let shift = -MOST_DELAY_BINS; shift <= MOST_DELAY_BINS; shift += 1) {
    // The shift is shared: half forward on one foot, half back on the other, so that neither is preferred.
    const back = centre - Math.floor(shift / 2);
    const forth = centre + BINS_PER_STEP + Math.ceil(shift / 2);
    likenesses.push(correlate(stride, back, forth));
  }
  let best = 0;
  for (let i = 1; i < likenesses.length; i += 1) if (likenesses[i]! > likenesses[best]!) best = i;
  const left = likenesses[best - 1];
  const right = likenesses[best + 1];
  const top = likenesses[best]!;
  const bend = left === undefined || right === undefined ? 0 : 2 * top - left - right;
  const fraction = bend > 0 ? (right! - left!) / (2 * bend) : 0;
  return { delayBins: best - MOST_DELAY_BINS + fraction, likeness: top };
}

function correlate(stride: Float64Array, a: number, b: number): number {
  const count = 2 * REACH_BINS + 1;
  let meanA = 0;
  let meanB = 0;
  for (let o = -REACH_BINS; o <= REACH_BINS; o += 1) {
    meanA += wrapped(stride, a + o) / count;
    meanB += wrapped(stride, b + o) / count;
  }
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let o = -REACH_BINS; o <= REACH_BINS; o += 1) {
    const u = wrapped(stride, a + o) - meanA;
    const v = wrapped(stride, b + o) - meanB;
    ab += u * v;
    aa += u * u;
    bb += v * v;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}
