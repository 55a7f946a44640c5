// Running second-order sections over a signal: causal, and forward–backward without phase shift.
import { type SecondOrderSections } from "./butterworth.ts";

/**
 * Filters `samples` in place, from a state that is zero or that of a long-standing constant `restingAt`; "backward" runs
 * from the last sample to the first.
 */
export function sosFilterInPlace(
  sections: SecondOrderSections,
  samples: Float64Array,
  restingAt = 0,
  direction: "forward" | "backward" = "forward",
): void {
  const from = direction === "forward" ? 0 : samples.length - 1;
  const step = direction === "forward" ? 1 : -1;
  const c = sections.coefficients;
  let resting = restingAt;
  let section = 0;
  // Two sections in one pass: their recursions overlap in the processor, and memory is read once for both.
  for (; section + 1 < sections.sectionCount; section += 2) {
    const middle = resting * dcGain(c, section * 5);
    pairPass(c, section * 5, samples, resting, middle, from, step);
    resting = middle * dcGain(c, section * 5 + 5);
  }
  if (section < sections.sectionCount) singlePass(c, section * 5, samples, resting, from, step);
}

/**
 * Zero-phase filtering: forward, then backward, over the signal extended at both ends by odd reflection of
 * 3·(2·sections + 1) samples (3·(2·sections) with a first-order section), each pass starting at rest on its first value.
 * The same padding and start as scipy.signal.sosfiltfilt. Needs more samples than the padding.
 */
export function sosFiltFilt(sections: SecondOrderSections, samples: Float64Array): Float64Array {
  const pad = 3 * (2 * sections.sectionCount + 1 - sections.firstOrderCount);
  const n = samples.length;
  if (n <= pad) throw new RangeError(`sosFiltFilt: needs more than ${pad} samples, got ${n}`);
  const work = new Float64Array(n + 2 * pad);
  work.set(samples, pad);
  const first = samples[0]!;
  const last = samples[n - 1]!;
  for (let i = 0; i < pad; i += 1) {
    work[i] = 2 * first - samples[pad - i]!;
    work[pad + n + i] = 2 * last - samples[n - 2 - i]!;
  }
  sosFilterInPlace(sections, work, work[0]!);
  sosFilterInPlace(sections, work, work[work.length - 1]!, "backward");
  return work.subarray(pad, pad + n);
}

function dcGain(c: Float64Array, at: number): number {
  return (c[at]! + c[at + 1]! + c[at + 2]!) / (1 + c[at + 3]! + c[at + 4]!);
}

/** Transposed direct form II; the state of a constant input x with output y is z1 = y − b0·x, z2 = b2·x − a2·y. */
function singlePass(c: Float64Array, at: number, x: Float64Array, resting: number, from: number, step: number): void {
  const b0 = c[at]!;
  const b1 = c[at + 1]!;
  const b2 = c[at + 2]!;
  const a1 = c[at + 3]!;
  const a2 = c[at + 4]!;
  const settled = resting * dcGain(c, at);
  let z1 = settled - b0 * resting;
  let z2 = b2 * resting - a2 * settled;
  for (let i = from, left = x.length; left > 0; left -= 1, i += step) {
    const input = x[i]!;
    const output = b0 * input + z1;
    z1 = b1 * input - a1 * output + z2;
    z2 = b2 * input - a2 * output;
    x[i] = output;
  }
}

function pairPass(
  c: Float64Array,
  at: number,
  x: Float64Array,
  resting: number,
  middle: number,
  from: number,
  step: number,
): void {
  const b0 = c[at]!;
  const b1 = c[at + 1]!;
  const b2 = c[at + 2]!;
  const a1 = c[at + 3]!;
  const a2 = c[at + 4]!;
  const d0 = c[at + 5]!;
  const d1 = c[at + 6]!;
  const d2 = c[at + 7]!;
  const e1 = c[at + 8]!;
  const e2 = c[at + 9]!;
  const settled = middle * dcGain(c, at + 5);
  let z1 = middle - b0 * resting;
  let z2 = b2 * resting - a2 * middle;
  let w1 = settled - d0 * middle;
  let w2 = d2 * middle - e2 * settled;
  for (let i = from, left = x.length; left > 0; left -= 1, i += step) {
    const input = x[i]!;
    const between = b0 * input + z1;
    z1 = b1 * input - a1 * between + z2;
    z2 = b2 * input - a2 * between;
    const output = d0 * between + w1;
    w1 = d1 * between - e1 * output + w2;
    w2 = d2 * between - e2 * output;
    x[i] = output;
  }
}
