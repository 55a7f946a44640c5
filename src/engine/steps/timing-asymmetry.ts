// How much the two alternating step times differ: the mean shape of one foot's step is slid over the other's.
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

const BINS_PER_STEP = 40;
const STRIDES_PER_BLOCK = 8;
const LEAST_BLOCKS = 5;
/** Below this correlation the two feet look too different for their times to be compared: the sensor sits on a limb. */
const LEAST_LIKENESS = 0.85;
/** Largest delay looked for, in steps: 25 % of difference. */
const MOST_DELAY_BINS = Math.round(0.125 * BINS_PER_STEP);

export function measureTimingAsymmetry(stretch: FeatureStretch, span: MovingSpan, phase: StepPhase): TimingAsymmetry {
  const blocks = foldBlocks(stretch.body, span.from, phase.steps);
  const unknown = (need: string, have: string): TimingAsymmetry => ({
    percent: { kind: "not-enough", need, have },
    oddDelaySteps: 0,
  });
  if (blocks.length < LEAST_BLOCKS)
    return unknown(
      `${LEAST_BLOCKS * STRIDES_PER_BLOCK} strides of running in one piece`,
      `${blocks.length * STRIDES_PER_BLOCK} strides`,
    );
  const whole = new Float64Array(2 * BINS_PER_STEP);
  for (const block of blocks) for (let b = 0; b < whole.length; b += 1) whole[b]! += block[b]! / blocks.length;
  const { likeness } = slide(whole);
  if (likeness < LEAST_LIKENESS)
    return unknown(
      "a sensor that feels both feet alike, as at the waist",
      "the two feet look different to this sensor",
    );
  const delays = blocks.map((block) => slide(block).delaySteps);
  const mean = delays.reduce((sum, delay) => sum + delay, 0) / delays.length;
  const variance = delays.reduce((sum, delay) => sum + (delay - mean) ** 2, 0) / (delays.length - 1);
  // Odd steps later by d: one step lasts 1 + d, the next 1 − d; their difference over the mean is 2d.
  const standardError = 200 * Math.sqrt(variance / delays.length);
  const estimate = 200 * Math.abs(mean);
  return {
    percent: {
      estimate,
      standardError,
      interval95: { low: Math.max(0, estimate - 1.96 * standardError), high: estimate + 1.96 * standardError },
      sampleCount: delays.length,
      method: `mean step shapes compared in blocks of ${STRIDES_PER_BLOCK} strides`,
    },
    oddDelaySteps: mean,
  };
}

/** Mean shape over the stride of each block of strides: even step first. */
function foldBlocks(body: Float32Array, from: number, steps: Float64Array): Float64Array[] {
  const size = 2 * BINS_PER_STEP;
  const blocks: Float64Array[] = [];
  let sums = new Float64Array(size);
  let counts = new Float64Array(size);
  const firstStride = Math.ceil((steps[0]! + 0.5) / 2);
  let block = 0;
  for (let i = 0; i < steps.length; i += 1) {
    const stride = (steps[i]! + 0.5) / 2 - firstStride; // an even step's contact lies at a quarter
    if (stride < 0) continue;
    const index = Math.floor(stride / STRIDES_PER_BLOCK);
    if (index > block) {
      const mean = sums.map((sum, b) => sum / counts[b]!);
      if (mean.every(Number.isFinite)) blocks.push(mean);
      sums = new Float64Array(size);
      counts = new Float64Array(size);
      block = index;
    }
    // Shared between the two nearest bins, so that the fold has no steps of its own.
    const at = (stride - Math.floor(stride)) * size;
    const bin = Math.floor(at);
    const share = at - bin;
    const value = body[from + i]!;
    sums[bin]! += (1 - share) * value;
    counts[bin]! += 1 - share;
    const next = (bin + 1) % size;
    sums[next]! += share * value;
    counts[next]! += share;
  }
  return blocks;
}

/** Best shift of the odd step's shape against the even one's, by normalised correlation, with its value there. */
function slide(stride: Float64Array): { readonly delaySteps: number; readonly likeness: number } {
  const size = stride.length;
  const at = (index: number): number => stride[((index % size) + size) % size]!;
  const likenesses: number[] = [];
  for (let shift = -MOST_DELAY_BINS; shift <= MOST_DELAY_BINS; shift += 1) {
    let ab = 0;
    let aa = 0;
    let bb = 0;
    let meanA = 0;
    let meanB = 0;
    for (let b = 0; b < BINS_PER_STEP; b += 1) {
      meanA += at(b) / BINS_PER_STEP;
      meanB += at(b + BINS_PER_STEP + shift) / BINS_PER_STEP;
    }
    for (let b = 0; b < BINS_PER_STEP; b += 1) {
      const u = at(b) - meanA;
      const v = at(b + BINS_PER_STEP + shift) - meanB;
      ab += u * v;
      aa += u * u;
      bb += v * v;
    }
    likenesses.push(ab / Math.sqrt(aa * bb || 1));
  }
  let best = 0;
  for (let i = 1; i < likenesses.length; i += 1) if (likenesses[i]! > likenesses[best]!) best = i;
  const left = likenesses[best - 1];
  const right = likenesses[best + 1];
  const top = likenesses[best]!;
  const bend = left === undefined || right === undefined ? 0 : 2 * top - left - right;
  const fraction = bend > 0 ? (right! - left!) / (2 * bend) : 0;
  return { delaySteps: (best - MOST_DELAY_BINS + fraction) / BINS_PER_STEP, likeness: top };
}
