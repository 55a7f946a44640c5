// The phase of the step cycle over a span: the known rate is taken out of the signal, what remains turns slowly and is
// averaged over whole strides, so that an uneven left and right cancel. Contacts are where the phase passes a whole number.
import { spmToHz } from "../quantities/units.ts";
import { type FeatureStretch } from "./feature-store.ts";
import { type MovingSpan } from "./moving-spans.ts";

export interface StepPhase {
  /** Steps, rising; index 0 belongs to feature `span.from`. */
  readonly steps: Float64Array;
}

/** Phase of a span, whole numbers where impacts centre: the maximum of the impact channel's component at the step rate. */
export function followStepPhase(stretch: FeatureStretch, span: MovingSpan): StepPhase {
  const turns = rateToTurns(stretch, span);
  const wave = spin(turns);
  const edges = strideEdges(turns);
  const impact = demodulate(stretch.impact, span.from, wave, edges);
  const body = demodulate(stretch.body, span.from, wave, edges);
  const { re, im } = impact.clarity >= body.clarity ? impact : body;
  const n = turns.length;
  const mean = meanOf(stretch.impact, span.from, n);
  const steps = turns; // overwritten place by place
  let previous = Math.atan2(im[0]!, re[0]!) / (2 * Math.PI);
  let whole = 0;
  let impactRe = 0;
  let impactIm = 0;
  for (let i = 0; i < n; i += 1) {
    const a = re[i]!;
    const b = im[i]!;
    const lead = Math.atan2(b, a) / (2 * Math.PI);
    if (lead - previous > 0.5) whole -= 1;
    else if (previous - lead > 0.5) whole += 1;
    previous = lead;
    // cos(2π(turns + lead)) has its maximum where turns + lead is whole.
    steps[i] = turns[i]! + lead + whole;
    // Where the impacts centre in that phase: e^(2πi·lead) is (a + ib) over its size.
    const size = Math.sqrt(a * a + b * b);
    if (!(size > 0)) continue;
    const value = (stretch.impact[span.from + i]! - mean) / size;
    const c = wave.cos[i]!;
    const d = wave.sin[i]!;
    impactRe += value * (c * a - d * b);
    impactIm -= value * (d * a + c * b);
  }
  const offset = Math.atan2(impactIm, impactRe) / (2 * Math.PI);
  for (let i = 0; i < n; i += 1) steps[i]! += offset;
  return { steps };
}

function meanOf(channel: Float32Array, from: number, count: number): number {
  let sum = 0;
  for (let i = 0; i < count; i += 1) sum += channel[from + i]!;
  return sum / count;
}

/**
 * Times at which the phase passes whole numbers and `landingPhase`, by interpolation between features; `parities` is even
 * or odd step.
 */
export function stepTimesOf(
  stretch: FeatureStretch,
  span: MovingSpan,
  phase: StepPhase,
  landingPhase: number,
): { readonly timesS: number[]; readonly parities: number[] } {
  const { steps } = phase;
  const timesS: number[] = [];
  const parities: number[] = [];
  const startS = stretch.startS + span.from / stretch.featureRateHz;
  let next = Math.ceil(steps[0]! - landingPhase);
  for (let i = 1; i < steps.length; i += 1) {
    while (steps[i]! - landingPhase >= next) {
      const share = (next + landingPhase - steps[i - 1]!) / (steps[i]! - steps[i - 1]!);
      timesS.push(startS + (i - 1 + share) / stretch.featureRateHz);
      parities.push(Math.abs(next) % 2);
      next += 1;
    }
  }
  return { timesS, parities };
}

/** Steps since the span's start according to the track, points joined by straight lines. */
function rateToTurns(stretch: FeatureStretch, span: MovingSpan): Float64Array {
  const n = span.to - span.from;
  const turns = new Float64Array(n);
  const { points } = span;
  let p = 0;
  let sum = 0;
  for (let i = 0; i < n; i += 1) {
    turns[i] = sum;
    const timeS = stretch.startS + (span.from + i) / stretch.featureRateHz;
    while (p + 1 < points.length && points[p + 1]!.timeS <= timeS) p += 1;
    const here = points[p]!;
    const next = points[p + 1];
    const share = next === undefined ? 0 : Math.max(0, (timeS - here.timeS) / (next.timeS - here.timeS));
    const rate = here.stepRateSpm + share * ((next ?? here).stepRateSpm - here.stepRateSpm);
    sum += spmToHz(rate) / stretch.featureRateHz;
  }
  return turns;
}

interface Wave {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

function spin(turns: Float64Array): Wave {
  const cos = new Float64Array(turns.length);
  const sin = new Float64Array(turns.length);
  for (let i = 0; i < turns.length; i += 1) {
    const angle = 2 * Math.PI * turns[i]!;
    cos[i] = Math.cos(angle);
    sin[i] = Math.sin(angle);
  }
  return { cos, sin };
}

interface Envelope {
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Share of the channel's variance that stands at the step rate. */
  readonly clarity: number;
}

/**
 * channel · e^(−2πi·turns), averaged over two steps and again over two steps: a mean over a whole stride is zero for
 * everything that repeats with the stride but not with the step, and for the constant part.
 */
function demodulate(channel: Float32Array, from: number, wave: Wave, edges: StrideEdges): Envelope {
  const n = wave.cos.length;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  const mean = meanOf(channel, from, n);
  let variance = 0;
  for (let i = 0; i < n; i += 1) {
    const value = channel[from + i]! - mean;
    variance += value * value;
    re[i] = value * wave.cos[i]!;
    im[i] = -value * wave.sin[i]!;
  }
  averageOverStride(re, im, edges);
  averageOverStride(re, im, edges);
  let power = 0;
  for (let i = 0; i < n; i += 1) power += re[i]! * re[i]! + im[i]! * im[i]!;
  return { re, im, clarity: variance > 0 ? power / variance : 0 };
}

/** For each feature where the stride around it begins and ends: the feature before, and how far on to the next. */
interface StrideEdges {
  readonly low: Int32Array;
  readonly lowShare: Float64Array;
  readonly high: Int32Array;
  readonly highShare: Float64Array;
  /** Room for running sums. */
  readonly sumsRe: Float64Array;
  readonly sumsIm: Float64Array;
}

/** One step before to one step after; near the ends of the span the stride is shifted inside. */
function strideEdges(turns: Float64Array): StrideEdges {
  const n = turns.length;
  const edges = {
    low: new Int32Array(n),
    lowShare: new Float64Array(n),
    high: new Int32Array(n),
    highShare: new Float64Array(n),
    sumsRe: new Float64Array(n + 1),
    sumsIm: new Float64Array(n + 1),
  };
  const total = turns[n - 1]!;
  const margin = Math.min(1, total / 2);
  let low = 0;
  let high = 0;
  for (let i = 0; i < n; i += 1) {
    const centre = Math.max(margin, Math.min(turns[i]!, total - margin));
    while (low + 1 < n && turns[low + 1]! <= centre - 1) low += 1;
    while (high + 1 < n && turns[high + 1]! <= centre + 1) high += 1;
    edges.low[i] = low;
    edges.lowShare[i] = edgeShare(turns, low, centre - 1);
    edges.high[i] = high;
    edges.highShare[i] = edgeShare(turns, high, centre + 1);
  }
  return edges;
}

/** Mean over the stride around each value, in place. */
function averageOverStride(re: Float64Array, im: Float64Array, edges: StrideEdges): void {
  const n = re.length;
  const { sumsRe, sumsIm } = edges;
  for (let i = 0; i < n; i += 1) {
    sumsRe[i + 1] = sumsRe[i]! + re[i]!;
    sumsIm[i + 1] = sumsIm[i]! + im[i]!;
  }
  for (let i = 0; i < n; i += 1) {
    const low = edges.low[i]!;
    const high = edges.high[i]!;
    const lowShare = edges.lowShare[i]!;
    const highShare = edges.highShare[i]!;
    const width = high + highShare - low - lowShare;
    if (!(width > 0)) continue;
    const fromRe = sumsRe[low]! + lowShare * (sumsRe[low + 1]! - sumsRe[low]!);
    const toRe = sumsRe[high]! + highShare * (sumsRe[high + 1]! - sumsRe[high]!);
    const fromIm = sumsIm[low]! + lowShare * (sumsIm[low + 1]! - sumsIm[low]!);
    const toIm = sumsIm[high]! + highShare * (sumsIm[high + 1]! - sumsIm[high]!);
    re[i] = (toRe - fromRe) / width;
    im[i] = (toIm - fromIm) / width;
  }
}

function edgeShare(turns: Float64Array, index: number, at: number): number {
  if (index + 1 >= turns.length) return 1;
  const width = turns[index + 1]! - turns[index]!;
  return width > 0 ? Math.max(0, Math.min(1, (at - turns[index]!) / width)) : 0;
}
