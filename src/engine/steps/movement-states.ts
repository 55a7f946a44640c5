// The hidden states of the rate track and what a window says for each: running at each rate, walking at each rate,
// standing, and "something else".
import {
  movementStrength,
  runningRateRange,
  runningRateTypical,
  softSteps,
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

/** Logarithm of each rate of the grid over the one at which walking's strength is given; 0 above it. */
const RATE_LOGS = Float64Array.from({ length: RATE_GRID.highSpm - RATE_GRID.lowSpm + 1 }, (_, g) =>
  Math.min(0, Math.log((RATE_GRID.lowSpm + g) / movementStrength.value.walkingReferenceSpm)),
);

interface LogStrength {
  readonly log: number;
  readonly inverseSpread: number;
}

const logStrength = (kind: { readonly typicalMps2: number; readonly logSpread: number }): LogStrength => ({
  log: Math.log(kind.typicalMps2),
  inverseSpread: 1 / kind.logSpread,
});

interface Gait {
  /** First state and number of states. */
  readonly at: number;
  readonly count: number;
  readonly lowSpm: number;
  readonly typical: { readonly meanSpm: number; readonly spreadSpm: number };
  readonly alike: LogStrength;
  readonly unlike: LogStrength;
  /** Strength goes with this power of the rate, up to the reference rate. */
  readonly growth: number;
  /** Rates at which steps may also be as soft as walking's, and what that costs. */
  readonly soft?: typeof NOT_SOFT;
}

const NOT_SOFT = { lowSpm: Number.POSITIVE_INFINITY, highSpm: Number.NEGATIVE_INFINITY, priceNats: 0 };

const RUNNING: Gait = {
  at: 0,
  count: RUN_COUNT,
  lowSpm: RUN_LOW,
  typical: runningRateTypical.value,
  alike: logStrength(movementStrength.value.runningAlike),
  unlike: logStrength(movementStrength.value.runningUnlike),
  growth: 0,
  soft: softSteps.value,
};
const WALKING: Gait = {
  at: RUN_COUNT,
  count: WALK_COUNT,
  lowSpm: WALK_LOW,
  typical: walkingRateTypical.value,
  alike: logStrength(movementStrength.value.walkingAlike),
  unlike: logStrength(movementStrength.value.walkingUnlike),
  growth: 2,
};

/** Log-evidence of one window for every state, into `out` (STATE_COUNT values). `rmsMps2` counts only for acceleration. */
export function weighStates(fit: CombFit, rmsMps2: number, content: FeatureContent, out: Float64Array): void {
  const logRms = content === "acceleration" ? Math.log(Math.max(rmsMps2, 1e-3)) : undefined;
  weighRates(fit, out, RUNNING, logRms);
  weighRates(fit, out, WALKING, logRms);
  const { standing } = movementStrength.value;
  const above = logRms === undefined ? 0 : (logRms - Math.log(standing.typicalMps2)) / standing.logSpread;
  out[STANDING_STATE] = logRms === undefined ? -20 : above < 0 ? 0 : -0.5 * above * above;
  out[OTHER_STATE] = OTHER_LOG;
}

function weighRates(fit: CombFit, out: Float64Array, gait: Gait, logRms: number | undefined): void {
  const { alike, unlike, lowShare } = fit;
  const { at, count, lowSpm, growth } = gait;
  const first = lowSpm - RATE_GRID.lowSpm;
  const { meanSpm } = gait.typical;
  const narrowness = 0.5 / gait.typical.spreadSpm ** 2;
  const soft = gait.soft ?? NOT_SOFT;
  const softAlike = logRms === undefined ? 0 : strengthLog(logRms, WALKING.alike) - soft.priceNats;
  const softUnlike = logRms === undefined ? 0 : strengthLog(logRms, WALKING.unlike) - soft.priceNats;
  for (let i = 0; i < count; i += 1) {
    const g = first + i;
    const rateSpm = lowSpm + i;
    // Strength means nothing in sound.
    let byAlike = logRms === undefined ? 0 : strengthLog(logRms - growth * RATE_LOGS[g]!, gait.alike);
    let byUnlike = logRms === undefined ? 0 : strengthLog(logRms - growth * RATE_LOGS[g]!, gait.unlike);
    if (rateSpm >= soft.lowSpm && rateSpm <= soft.highSpm) {
      if (softAlike > byAlike) byAlike = softAlike;
      if (softUnlike > byUnlike) byUnlike = softUnlike;
    }
    const a = alike[g]! + byAlike;
    const b = unlike[g]! + byUnlike;
    const off = rateSpm - meanSpm;
    const low = LOW_WEIGHT * Math.log(Math.max(lowShare[g]!, LEAST_LOW_SHARE));
    out[at + i] = (a > b ? a : b) + low - narrowness * off * off;
  }
}

function strengthLog(logRms: number, kind: LogStrength): number {
  const off = (logRms - kind.log) * kind.inverseSpread;
  return -0.5 * off * off;
}
