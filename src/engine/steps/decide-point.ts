// From the scores of all states at one moment to an answer, or to the reason why there is none.
import { walkingRateRange } from "../evidence/steps.ts";
import { gaitOf } from "./gait-odds.ts";
import { OTHER_STATE, rateOfState, RUN_COUNT, STANDING_STATE } from "./movement-states.ts";
import { type FeatureContent, type NoRateReason, type RatePoint } from "./rate-track.ts";
import { type MovementState } from "../recordings/window.ts";
import { pointQuality } from "./point-quality.ts";

/** What was seen in one window besides the scores of the states. */
export interface WindowFacts {
  readonly timeS: number;
  /** Share of the window that was measured and not bridged. */
  readonly measuredShare: number;
  readonly windowS: number;
  /** Of the first group, in its unit. */
  readonly rms: number;
  readonly content: FeatureContent;
}

/** Shares of the window's energy that one rate's lines hold. */
export interface CombShares {
  /** The better comb, mean of the groups. */
  readonly explained: number;
  /** First group, with every step and with every stride. */
  readonly stepShare: number;
  readonly strideShare: number;
}

/** A rival further off than this share of the rate is another rate, not the same one drifting. */
const SAME_RATE_SHARE = 0.04;
/** A rival rate closer than this, nats, leaves the question open. */
const LEAST_MARGIN = 1.5;
const LEAST_MEASURED_SHARE = 0.7;
/** No living sensor is this still: it is off, or the numbers are constant. */
const LEAST_RMS = 1e-6;

/**
 * `scores`: total score of the best path through each state. `evidence`: this window's own log-evidence, of which the
 * peak near the chosen state gives the fraction of a spm.
 */
export function decidePoint(
  scores: Float64Array,
  evidence: Float64Array,
  sharesAt: (rateSpm: number) => CombShares,
  facts: WindowFacts,
): RatePoint {
  const none = (state: MovementState, reason: NoRateReason): RatePoint => ({
    timeS: facts.timeS,
    stepRateSpm: null,
    quality: 0,
    state,
    reason,
  });
  if (facts.measuredShare < LEAST_MEASURED_SHARE) return none("unknown", "gap");
  if (facts.rms < LEAST_RMS) return none("unknown", "no-signal");
  let best = 0;
  for (let s = 1; s < scores.length; s += 1) if (scores[s]! > scores[best]!) best = s;
  if (best === OTHER_STATE) return none("unknown", "no-rhythm");
  if (best === STANDING_STATE) return none("standing", "standing");
  const { rateSpm, curvature, peakEvidence } = refine(evidence, best);
  const nearSpm = SAME_RATE_SHARE * rateSpm;
  const rival = Math.max(
    bestOutside(scores, 0, RUN_COUNT, rateSpm - nearSpm, rateSpm + nearSpm),
    bestOutside(scores, RUN_COUNT, STANDING_STATE, rateSpm - nearSpm, rateSpm + nearSpm),
  );
  const margin = scores[best]! - Math.max(rival, scores[OTHER_STATE]!);
  if (scores[best]! - rival < LEAST_MARGIN) return none("unknown", "two-rates-fit");
  const path = best < RUN_COUNT ? "running" : "walking";
  const shares = sharesAt(rateSpm);
  // Sound settles which feet it hears by itself, before and after (sound-rhythm.ts, sound-feet.ts).
  const octaveMargin =
    facts.content === "acceleration" ? peakEvidence - bestOctave(evidence, rateSpm) : Number.POSITIVE_INFINITY;
  if (octaveMargin < LEAST_MARGIN) return none("unknown", "two-rates-fit");
  const quality = pointQuality({
    state: path,
    explainedShare: shares.explained,
    marginNats: margin,
    octaveMarginNats: octaveMargin,
    curvature,
  });
  const state = facts.content === "acceleration" ? gaitOf(rateSpm, { rmsMps2: facts.rms, ...shares }) : path;
  const point = { timeS: facts.timeS, stepRateSpm: rateSpm, quality, state };
  if (state !== "unknown") return point;
  return { ...point, reason: rateSpm > walkingRateRange.value[1] ? "no-flight" : "running-or-walking" };
}

/** Best score among the states from `from` to `to` (exclusive, one kind of gait) whose rate is not in [low, high]. */
function bestOutside(scores: Float64Array, from: number, to: number, lowSpm: number, highSpm: number): number {
  const below = Math.min(to, from + Math.ceil(lowSpm) - rateOfState(from));
  const above = Math.max(from, from + Math.floor(highSpm) + 1 - rateOfState(from));
  let best = Number.NEGATIVE_INFINITY;
  for (let s = from; s < below; s += 1) if (scores[s]! > best) best = scores[s]!;
  for (let s = above; s < to; s += 1) if (scores[s]! > best) best = scores[s]!;
  return best;
}

/**
 * The best evidence of this window for half or twice the rate, of either gait. It is weighed window by window: what speaks
 * for the wrong octave (the body, the placement) is the same in all of them, and a long path that repeats it is no surer.
 */
function bestOctave(evidence: Float64Array, rateSpm: number): number {
  let rival = Number.NEGATIVE_INFINITY;
  for (const octave of [rateSpm / 2, 2 * rateSpm]) {
    const nearSpm = SAME_RATE_SHARE * octave;
    rival = Math.max(
      rival,
      bestInside(evidence, 0, RUN_COUNT, octave - nearSpm, octave + nearSpm),
      bestInside(evidence, RUN_COUNT, STANDING_STATE, octave - nearSpm, octave + nearSpm),
    );
  }
  return rival;
}

/** Best score among the states from `from` to `to` (exclusive, one kind of gait) whose rate is in [low, high]. */
function bestInside(scores: Float64Array, from: number, to: number, lowSpm: number, highSpm: number): number {
  const first = Math.max(from, from + Math.ceil(lowSpm) - rateOfState(from));
  const last = Math.min(to - 1, from + Math.floor(highSpm) - rateOfState(from));
  let best = Number.NEGATIVE_INFINITY;
  for (let s = first; s <= last; s += 1) if (scores[s]! > best) best = scores[s]!;
  return best;
}

/** How far from the path's state the window's own peak is looked for. */
const PEAK_REACH_SPM = 5;

interface Peak {
  readonly rateSpm: number;
  readonly curvature: number;
  readonly peakEvidence: number;
}

/** The highest evidence near the state, and the top of the parabola there. */
function refine(evidence: Float64Array, state: number): Peak {
  const low = state < RUN_COUNT ? 0 : RUN_COUNT;
  const high = (state < RUN_COUNT ? RUN_COUNT : STANDING_STATE) - 1;
  let peak = state;
  for (let s = Math.max(low, state - PEAK_REACH_SPM); s <= Math.min(high, state + PEAK_REACH_SPM); s += 1)
    if (evidence[s]! > evidence[peak]!) peak = s;
  const peakEvidence = evidence[peak]!;
  if (peak === low || peak === high) return { rateSpm: rateOfState(peak), curvature: 0, peakEvidence };
  const left = evidence[peak - 1]!;
  const right = evidence[peak + 1]!;
  const curvature = 2 * evidence[peak]! - left - right;
  const shift = curvature > 1e-9 ? (right - left) / (2 * curvature) : 0;
  return { rateSpm: rateOfState(peak) + Math.max(-0.5, Math.min(0.5, shift)), curvature, peakEvidence };
}

/**
 * A coarse sensor at rest gives one constant number, as a dead one does. Where the same sensor has moved at another time,
 * it is at rest.
 */
export function restOrDead(point: RatePoint, hasMoved: boolean): RatePoint {
  return point.reason === "no-signal" && hasMoved ? { ...point, state: "standing", reason: "standing" } : point;
}
