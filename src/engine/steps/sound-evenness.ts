// Do contacts come more evenly than feet can? Then they are a metronome's clicks or a piece of music.

const CONTACTS_PER_FIT = 16;
/** Normal spread of a median absolute deviation. */
const SPREAD_PER_DEVIATION = 1.4826;

/**
 * Typical distance of contacts from an even grid, seconds: a line through 16 at a time, robust spread around it, median
 * over the recording's pieces. Needs 16; Infinity with fewer (then nothing can be said against them).
 */
export function evennessS(timesS: readonly number[]): number {
  const spreads: number[] = [];
  for (let start = 0; start + CONTACTS_PER_FIT <= timesS.length; start += CONTACTS_PER_FIT / 2)
    spreads.push(spreadAroundLine(timesS, start));
  return spreads.length > 0 ? median(spreads) : Number.POSITIVE_INFINITY;
}

function spreadAroundLine(timesS: readonly number[], start: number): number {
  const middle = (CONTACTS_PER_FIT - 1) / 2;
  let mean = 0;
  for (let index = 0; index < CONTACTS_PER_FIT; index += 1) mean += timesS[start + index]! / CONTACTS_PER_FIT;
  let xx = 0;
  let xy = 0;
  for (let index = 0; index < CONTACTS_PER_FIT; index += 1) {
    xx += (index - middle) ** 2;
    xy += (index - middle) * (timesS[start + index]! - mean);
  }
  const distances: number[] = [];
  for (let index = 0; index < CONTACTS_PER_FIT; index += 1)
    distances.push(Math.abs(timesS[start + index]! - mean - (xy / xx) * (index - middle)));
  return SPREAD_PER_DEVIATION * median(distances);
}

function median(values: number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
