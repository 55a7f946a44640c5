// Steps while they happen: one sample in, an answer twice a second, the same core as the batch analysis.
import { addEvidence, spreadScores } from "./rate-path.ts";
import { type CombFit } from "./comb-model.ts";
import { type CombShares, decidePoint, restOrDead, type WindowFacts } from "./decide-point.ts";
import { goesOn, withGait } from "./gait-chain.ts";
import { type LiveReading, type LiveSteps } from "./live-reading.ts";
import { createMotionFrontEnd, MOTION_FEATURE_RATE_HZ, MOTION_GROUP_SIZES } from "./motion-features.ts";
import { RATE_GRID, STATE_COUNT } from "./movement-states.ts";
import { stepIntervalS } from "../quantities/units.ts";
import { createRateCore, WINDOW_S } from "./rate-core.ts";
import { type RatePoint } from "./rate-track.ts";

const LIVE_HOP_S = 0.5;
const IMPACT_CHANNEL = 3;

const NOTHING: LiveReading = {
  stepRateSpm: null,
  state: "unknown",
  quality: 0,
  stepCount: 0,
  lastStepTimeS: null,
  updatedAtS: null,
  reason: "too-short",
};

/**
 * A live step counter for 20–200 Hz acceleration, gravity included or removed. First answer 4 s after the first sample
 * of steady running, then every 0.5 s; the rate is that of the last 5 s. Memory is fixed; nothing is allocated per sample.
 */
export function createLiveSteps(): LiveSteps {
  let reading = NOTHING;
  let point: RatePoint | undefined;
  let fresh = true;
  let hasMoved = false;
  /** Strength of the movement that was last followed. */
  let movingRms = 0;
  let scores = new Float64Array(STATE_COUNT);
  let spread = new Float64Array(STATE_COUNT);
  const recent = new Float64Array(Math.round(WINDOW_S * MOTION_FEATURE_RATE_HZ));
  let stepCount = 0;
  let lastStepTimeS: number | null = null;

  const placeSteps = (rateSpm: number, windowS: number, wasMoving: boolean): void => {
    const nowS = core.latestS();
    const intervalS = stepIntervalS(rateSpm);
    const phase = impactPhase(core, recent, intervalS);
    // First steps of a bout: as far back as the window can have seen them.
    const backS = wasMoving ? windowS : windowS < WINDOW_S ? windowS : windowS / 2;
    const fromS = Math.max(
      nowS - backS,
      lastStepTimeS === null ? Number.NEGATIVE_INFINITY : lastStepTimeS + 0.5 * intervalS,
    );
    for (let k = Math.ceil((fromS - nowS) / intervalS + phase); ; k += 1) {
      const stepS = nowS + (k - phase) * intervalS;
      if (stepS > nowS) break;
      stepCount += 1;
      lastStepTimeS = stepS;
    }
  };
  const onWindow = (facts: WindowFacts, evidence: Float64Array, fit: CombFit): void => {
    if (fresh) spread.fill(0);
    else spreadScores(scores, spread, LIVE_HOP_S);
    fresh = false;
    addEvidence(spread, evidence);
    [scores, spread] = [spread, scores];
    const sharesAt = (rate: number): CombShares => {
      const index = Math.round(rate) - RATE_GRID.lowSpm;
      return {
        explained: Math.max(fit.alikeShare[index]!, fit.unlikeShare[index]!),
        stepShare: fit.stepShare[index]!,
        strideShare: fit.strideShare[index]!,
      };
    };
    const before = point;
    const wasMoving = before?.stepRateSpm !== null && before !== undefined;
    point = decidePoint(scores, evidence, sharesAt, facts);
    if (before !== undefined && goesOn(before, point) && before.state !== "unknown" && before.state !== "standing")
      point = withGait(point, before.state);
    const mayStand = point.stepRateSpm !== null || (before?.state === "standing" && point.state === "unknown");
    if (mayStand && facts.measuredShare === 1 && isStillNow(core, recent, Math.max(movingRms, facts.rms)))
      point = { timeS: point.timeS, stepRateSpm: null, quality: 0, state: "standing", reason: "standing" };
    else if (point.stepRateSpm !== null) movingRms = facts.rms;
    hasMoved ||= point.reason !== "no-signal";
    point = restOrDead(point, hasMoved);
    if (point.stepRateSpm !== null) placeSteps(point.stepRateSpm, facts.windowS, wasMoving);
    const { stepRateSpm, state, quality, reason } = point;
    reading = {
      stepRateSpm,
      state,
      quality,
      stepCount,
      lastStepTimeS,
      updatedAtS: core.latestS(),
      ...(reason === undefined ? {} : { reason }),
    };
  };
  const core = createRateCore({
    featureRateHz: MOTION_FEATURE_RATE_HZ,
    groupSizes: MOTION_GROUP_SIZES,
    content: "acceleration",
    hopS: LIVE_HOP_S,
    onWindow,
  });
  const front = createMotionFrontEnd({
    feature: (values, measured) => core.push(values, measured),
    begin(timeS) {
      core.begin(timeS);
      fresh = true;
      point = undefined;
    },
  });
  const one = { timeS: new Float64Array(1), x: new Float64Array(1), y: new Float64Array(1), z: new Float64Array(1) };
  return {
    push(timeS, x, y, z) {
      one.timeS[0] = timeS;
      one.x[0] = x;
      one.y[0] = y;
      one.z[0] = z;
      front.push(one, 0);
    },
    read: () => reading,
  };
}

/** A runner who stops is told so before the window of five seconds has forgotten the run. */
const STILL_S = 1.2;
/** Still: this small beside the movement before. No step lasts so long. */
const STILL_SHARE = 0.15;

/** Whether the three axes have hardly moved for a whole `STILL_S`. */
function isStillNow(
  core: { recent(channel: number, count: number, out: Float64Array): void },
  buffer: Float64Array,
  movingRms: number,
): boolean {
  const count = Math.round(STILL_S * MOTION_FEATURE_RATE_HZ);
  let squares = 0;
  for (let axis = 0; axis < 3; axis += 1) {
    core.recent(axis, count, buffer);
    let sum = 0;
    let sumOfSquares = 0;
    for (let i = 0; i < count; i += 1) {
      sum += buffer[i]!;
      sumOfSquares += buffer[i]! * buffer[i]!;
    }
    squares += sumOfSquares / count - (sum / count) ** 2;
  }
  return squares < (STILL_SHARE * movingRms) ** 2;
}

/**
 * Phase of the impacts now, in steps after the last one (0–1, or its equal below 0), from the last four steps: the
 * triangular weight makes everything vanish that repeats with the stride but not with the step.
 */
function impactPhase(
  core: { recent(channel: number, count: number, out: Float64Array): void },
  buffer: Float64Array,
  intervalS: number,
): number {
  const span = 4 * intervalS * MOTION_FEATURE_RATE_HZ;
  const count = Math.min(buffer.length, Math.floor(span));
  core.recent(IMPACT_CHANNEL, count, buffer);
  let re = 0;
  let im = 0;
  for (let i = 0; i < count; i += 1) {
    const back = (count - 1 - i) / MOTION_FEATURE_RATE_HZ; // seconds before now
    const weight = 1 - Math.abs(2 * (back / (4 * intervalS)) - 1);
    const angle = (2 * Math.PI * back) / intervalS;
    re += weight * buffer[i]! * Math.cos(angle);
    im += weight * buffer[i]! * Math.sin(angle);
  }
  return Math.atan2(im, re) / (2 * Math.PI);
}
