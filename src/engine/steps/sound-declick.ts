// Takes a machine's beat out of a band's flux: what comes back the same at every beat is the click, the rest may be feet.
import { type BeatPart } from "./sound-beats.ts";

/** Around each beat, seconds: from when an analysis frame first touches the click to when its sound has gone. */
const BEFORE_S = 0.03;
const AFTER_S = 0.1;
/** Bins per frame: the beat falls anywhere between frames, and the flux of a click depends on where. */
const BINS_PER_FRAME = 3;
/**
 * Of the flux seen at one place of the beat, this quantile is the click's: feet come there only now and then, even those
 * of a runner in time with the beat.
 */
const CLICK_QUANTILE = 0.4;
/** A click's flux is above this quantile of all flux, or there is none in the band. */
const BACKGROUND_SHARE = 0.75;
/** A click varies a little with the noise under it. */
const MARGIN = 1.25;

/** Overwrites `flux` (one value a frame) in the given parts. */
export function removeBeats(flux: Float64Array, frameRateHz: number, parts: readonly BeatPart[]): void {
  const binCount = Math.ceil((BEFORE_S + AFTER_S) * frameRateHz * BINS_PER_FRAME);
  for (const { startS, endS, grid } of parts) {
    const from = Math.max(0, Math.round(startS * frameRateHz));
    const to = Math.min(flux.length, Math.round(endS * frameRateHz));
    const seen: number[][] = Array.from({ length: binCount }, () => []);
    const binOf = (frame: number): number => {
      const turns = (frame / frameRateHz + BEFORE_S - grid.beatS) / grid.intervalS;
      const sinceS = (turns - Math.floor(turns)) * grid.intervalS;
      return Math.floor(sinceS * frameRateHz * BINS_PER_FRAME);
    };
    for (let frame = from; frame < to; frame += 1) seen[binOf(frame)]?.push(flux[frame]!);
    const sorted = flux.slice(from, to).sort();
    const background = sorted[Math.floor(BACKGROUND_SHARE * sorted.length)] ?? 0;
    // Taking the background out with the click would leave holes that beat in time themselves: it is filled in again.
    const mean = meanOf(sorted.subarray(0, Math.ceil(BACKGROUND_SHARE * sorted.length)));
    const click = seen.map((values) => {
      const typical = quantile(values, CLICK_QUANTILE);
      return typical > background ? typical : 0;
    });
    for (let frame = from; frame < to; frame += 1) {
      const bin = binOf(frame);
      if (bin >= binCount) continue;
      const here = Math.max(click[bin - 1] ?? 0, click[bin]!, click[bin + 1] ?? 0);
      if (here > 0) flux[frame] = Math.max(mean, flux[frame]! - MARGIN * here);
    }
  }
}

function quantile(values: number[], share: number): number {
  return values.toSorted((a, b) => a - b)[Math.floor(share * values.length)] ?? 0;
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return values.length > 0 ? sum / values.length : 0;
}
