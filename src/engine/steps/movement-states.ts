// The hidden states of the rate track and what a window says for each: running at each rate, walking at each rate,
// standing, and "something else".
import {
  movementStrength,
  runningRateRange,
  runningRateTypical,
  walkingRateRange,
  walkingRateTypical,
} from "../evidence/steps.ts";
import { type CombFit, type CombGrid } from "./comb-model.ts";
import { type FeatureContent } from "./rate-track.ts";

export const RATE_GRID: CombGrid = { lowSpm: walkingRateRange.value[0], highSpm: runningRateRange.value[1], topHz: 10 };

const RUN_LOW = runningRateRange.value[0];
const WALK_LOW = walkingRateRange.value[0];
export const RUN_COUNT = runningRateRange.value[1] - RUN_LOW + 1;
export const WALK_COUNT = walkingRateRange.value[1] - WALK_LOW + 1;
/** States 0 … RUN_COUNT−1 are running, then walking, then these two. */
export const STANDING_STATE = RUN_COUNT + WALK_COUNT;
export const OTHER_STATE = STANDING_STATE + 1;
export const STATE_COUNT = OTHER_STATE + 1;

export function rateOfState(state: number): number {
  return state < RUN_COUNT ? RUN_LOW + state : WALK_LOW + state - RUN_COUNT;
}

/** How much it counts, in nats, that the lowest lines carry little: enough to settle half rates, not to decide alone. */
const LOW_WEIGHT = 2.5;
const LEAST_LOW_SHARE = 0.03;
/** Strength that "something else" has as likely as not, flat over everything. */
const OTHER_LOG = -2.2;

/** Log-evidence of one window for every state, into `out` (STATE_COUNT values). `rmsMps2` counts only for acceleration. */
export function weighStates(fit: CombFit, rmsMps2: number, content: FeatureContent, out: Float64Array): void {
  const logRms = Math.log(Math.max(rmsMps2, 1e-3));
  const strength = (kind: { readonly typicalMps2: number; readonly logSpread: number }): number => {
    if (content === "onsets") return 0;
    const z = (logRms - Math.log(kind.typicalMps2)) / kind.logSpread;
    return -0.5 * z * z;
  };
  const s = movementStrength.value;
  weighRates(
    fit,
    out,
    0,
    RUN_COUNT,
    RUN_LOW,
    runningRateTypical.value,
    strength(s.runningAlike),
    strength(s.runningUnlike),
  );
  weighRates(
    fit,
    out,
    RUN_COUNT,
    WALK_COUNT,
    WALK_LOW,
    walkingRateTypical.value,
    strength(s.walkingAlike),
    strength(s.walkingUnlike),
  );
  out[STANDING_STATE] =
    content === "onsets" ? -20 : logRms < Math.log(s.standing.typicalMps2) ? 0 : strength(s.standing);
  out[OTHER_STATE] = OTHER_LOG;
}

function weighRates(
  fit: CombFit,
  out: Float64Array,
  at: number,
  count: number,
  lowSpm: number,
  typical: { readonly meanSpm: number; readonly spreadSpm: number },
  alikeStrength: number,
  unlikeStrength: number,
): void {
  for (let i = 0; i < count; i += 1) {
    const rate = lowSpm + i;
    const z = (rate - typical.meanSpm) / typical.spreadSpm;
    const g = rate - RATE_GRID.lowSpm;
    const alike = fit.alike[g]! + alikeStrength;
    const unlike = fit.unlike[g]! + unlikeStrength;
    const low = LOW_WEIGHT * Math.log(Math.max(fit.lowShare[g]!, LEAST_LOW_SHARE));
    out[at + i] = (alike > unlike ? alike : unlike) + low - 0.5 * z * z;
  }
}
