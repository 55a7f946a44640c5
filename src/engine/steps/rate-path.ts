// Continuity over time by dynamic programming: rates drift by little, jumps and changes of movement cost.
import { OTHER_STATE, RUN_COUNT, STANDING_STATE, STATE_COUNT, WALK_COUNT } from "./movement-states.ts";

/** Nats per second and spm of drift, for a jump to any rate, for a change of movement, and into or out of "something else". */
const DRIFT_PRICE = 0.6;
const JUMP_PRICE = 8;
const CHANGE_PRICE = 4;
const OTHER_PRICE = 3;

/**
 * One step of the max-sum recursion: `next` = best over the previous states of (previous − price), without the new
 * evidence. Prices are symmetric, so the same step serves backward in time. The best value is kept at 0.
 */
export function spreadScores(previous: Float64Array, next: Float64Array, hopS: number): void {
  const drift = DRIFT_PRICE / Math.max(hopS, 0.25);
  const bestRun = maximum(previous, 0, RUN_COUNT);
  const bestWalk = maximum(previous, RUN_COUNT, RUN_COUNT + WALK_COUNT);
  const standing = previous[STANDING_STATE]!;
  const other = previous[OTHER_STATE]!;
  const intoRun = Math.max(bestRun - JUMP_PRICE, bestWalk - CHANGE_PRICE, standing - CHANGE_PRICE, other - OTHER_PRICE);
  const intoWalk = Math.max(
    bestWalk - JUMP_PRICE,
    bestRun - CHANGE_PRICE,
    standing - CHANGE_PRICE,
    other - OTHER_PRICE,
  );
  const moving = Math.max(bestRun, bestWalk);
  driftBand(previous, next, 0, RUN_COUNT, drift, intoRun);
  driftBand(previous, next, RUN_COUNT, RUN_COUNT + WALK_COUNT, drift, intoWalk);
  next[STANDING_STATE] = Math.max(standing, moving - CHANGE_PRICE, other - OTHER_PRICE);
  next[OTHER_STATE] = Math.max(other, moving - OTHER_PRICE, standing - OTHER_PRICE);
}

/** Best over all drifts at a price per spm, in two passes, with a floor that a jump gives. */
function driftBand(
  previous: Float64Array,
  next: Float64Array,
  from: number,
  to: number,
  drift: number,
  floor: number,
): void {
  let carried = floor;
  for (let s = from; s < to; s += 1) {
    carried -= drift;
    if (previous[s]! > carried) carried = previous[s]!;
    if (carried < floor) carried = floor;
    next[s] = carried;
  }
  carried = floor;
  for (let s = to - 1; s >= from; s -= 1) {
    carried -= drift;
    if (next[s]! > carried) carried = next[s]!;
    next[s] = carried;
  }
}

function maximum(x: Float64Array, from: number, to: number): number {
  let best = x[from]!;
  for (let i = from + 1; i < to; i += 1) if (x[i]! > best) best = x[i]!;
  return best;
}

/** Adds the evidence and shifts so that the best state stands at 0. */
export function addEvidence(scores: Float64Array, evidence: Float64Array): void {
  let best = Number.NEGATIVE_INFINITY;
  for (let s = 0; s < STATE_COUNT; s += 1) {
    const score = scores[s]! + evidence[s]!;
    scores[s] = score;
    if (score > best) best = score;
  }
  for (let s = 0; s < STATE_COUNT; s += 1) scores[s]! -= best;
}
