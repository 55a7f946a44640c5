// The octave question, by ear: is there a sound in the middle between two loud ones, or only what is always there?
// A runner's quieter foot is heard between the louder one's contacts; between a walker's steps there is nothing.

/** What the sounds of a rhythm are, at its faster reading. */
export type HeardFeet =
  /** Every one is a step. */
  | "all"
  /** Every second one: the others are no sound. `parity` of the contact index that is heard. */
  | { readonly parity: 0 | 1 }
  /** Cannot be told. */
  | "unclear";

/** How far around its expected place a sound is looked for, share of the interval. */
const SEARCH_SHARE = 0.12;
/** The quieter sound's rise over the rise between sounds, against the louder one's: at least this to be a foot. */
const QUIET_FOOT_SHARE = 0.12;
/** Sign test over the quieter sounds: about 1 in 200 by chance. */
const LEAST_SIGN_Z = 2.6;
/** The louder sound rises at least so far in a mean band, nats: below, silence in between proves nothing. */
const CLEAR_RISE_NATS = 1.2;
const LEAST_QUIET_COUNT = 5;

export interface Sounds {
  /** Rise at each contact's place, as its neighbours predict it (not where it was found: that would favour chance). */
  readonly rises: Float64Array;
  /** Mean rise halfway to the neighbours, searched just as wide. */
  readonly between: Float64Array;
}

/** Looks at the flux where contacts and gaps between them are predicted. The two contacts at each end stay 0. */
export function measureSounds(flux: Float64Array, frames: readonly number[]): Sounds {
  const rises = new Float64Array(frames.length);
  const between = new Float64Array(frames.length);
  for (let index = 2; index + 2 < frames.length; index += 1) {
    const here = (frames[index - 1]! + frames[index + 1]!) / 2;
    const before = (frames[index - 2]! + frames[index]!) / 2;
    const after = (frames[index]! + frames[index + 2]!) / 2;
    const reach = (SEARCH_SHARE * (after - before)) / 2;
    rises[index] = highest(flux, here, reach);
    between[index] = (highest(flux, (before + here) / 2, reach) + highest(flux, (here + after) / 2, reach)) / 2;
  }
  return { rises, between };
}

/** Weighs contacts `from` to `to` (exclusive). `bandCount` scales the flux, which is a sum over bands. */
export function whichFeet(sounds: Sounds, from: number, to: number, bandCount: number): HeardFeet {
  const excess: [number[], number[]] = [[], []];
  const first = Math.max(2, from);
  const last = Math.min(sounds.rises.length - 2, to);
  for (let index = first; index < last; index += 1)
    excess[index % 2]!.push(sounds.rises[index]! - sounds.between[index]!);
  const medians = [median(excess[0]), median(excess[1])];
  const quiet = medians[0]! < medians[1]! ? 0 : 1;
  const loudRise = medians[1 - quiet]!;
  const values = excess[quiet]!;
  if (values.length < LEAST_QUIET_COUNT || loudRise <= 0) return "unclear";
  const share = medians[quiet]! / loudRise;
  const positives = values.filter((value) => value > 0).length;
  const signZ = (2 * positives - values.length) / Math.sqrt(values.length);
  if (share >= QUIET_FOOT_SHARE && signZ >= Math.min(LEAST_SIGN_Z, Math.sqrt(values.length))) return "all";
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  // Standard error of a median of normal values, 1.25 σ/√n: what could be there unnoticed must be less than a foot.
  const mostShare = share + (2 * 1.25 * spread) / Math.sqrt(values.length) / loudRise;
  if (mostShare < QUIET_FOOT_SHARE && loudRise >= CLEAR_RISE_NATS * bandCount) return { parity: quiet === 0 ? 1 : 0 };
  return "unclear";
}

function highest(flux: Float64Array, centre: number, reach: number): number {
  let best = 0;
  const to = Math.min(flux.length - 1, Math.round(centre + reach));
  for (let frame = Math.max(0, Math.round(centre - reach)); frame <= to; frame += 1)
    if (flux[frame]! > best) best = flux[frame]!;
  return best;
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
