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
  const known = content === "acceleration" ? Math.log(Math.max(rmsMps2, 1e-3)) : undefined;
  const s = movementStrength.value;
  const run = runningRateTypical.value;
  weighRates(fit, out, 0, RUN_COUNT, RUN_LOW, run, strength(known, s.runningAlike), strength(known, s.runningUnlike));
  const walk = walkingRateTypical.value;
  weighRates(
    fit,
    out,
    RUN_COUNT,
    WALK_COUNT,
    WALK_LOW,
    walk,
    strength(known, s.walkingAlike),
    strength(known, s.walkingUnlike),
  );
  if (known === undefined) out[STANDING_STATE] = -20;
  else out[STANDING_STATE] = known < Math.log(s.standing.typicalMps2) ? 0 : strength(known, s.standing);
  out[OTHER_STATE] = OTHER_LOG;
}

/** How well a strength of movement fits a kind of it; nothing where strength means nothing. */
function strength(
  logRms: number | undefined,
  kind: { readonly typicalMps2: number; readonly logSpread: number },
): number {
  if (logRms === undefined) return 0;
  const z = (logRms - Math.log(kind.typicalMps2)) / kind.logSpread;
  return -0.5 * z * z;
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
  const { alike, unlike, lowShare } = fit;
  const first = lowSpm - RATE_GRID.lowSpm;
  const { meanSpm } = typical;
  const narrowness = 0.5 / typical.spreadSpm ** 2;
  for (let i = 0; i < count; i += 1) {
    const g = first + i;
    const off = lowSpm + i - meanSpm;
    const a = alike[g]! + alikeStrength;
    const b = unlike[g]! + unlikeStrength;
    const low = LOW_WEIGHT * Math.log(Math.max(lowShare[g]!, LEAST_LOW_SHARE));
    out[at + i] = (a > b ? a : b) + low - narrowness * off * off;
  }
}
