// Running or walking, where the rate can be either: by the bounce of each step, which flight makes large.
import { gaitByRate, runningRateRange, stepBounce, walkingRateRange } from "../evidence/steps.ts";

/** The window's acceleration at one step rate. */
export interface StepBounce {
  /** Root mean square of the whole movement, m/s². */
  readonly rmsMps2: number;
  /** Share of its energy that repeats with every step, and with every stride (both feet together). */
  readonly stepShare: number;
  readonly strideShare: number;
}

/** Odds of at least this many to one, natural logarithm, name the gait; closer ones leave it open. */
const RUNNING_LOG_ODDS = Math.log(4);
const WALKING_LOG_ODDS = Math.log(10);
/** A bounce this many spreads below running's is no flight. */
const MOST_FLIGHT_OFF = 3;

/** The gait of steps at this rate; "unknown" where both have such rates and the bounce fits both. */
export function gaitOf(rateSpm: number, bounce: StepBounce): "running" | "walking" | "unknown" {
  if (rateSpm > walkingRateRange.value[1]) return flightOff(bounce) < MOST_FLIGHT_OFF ? "running" : "unknown";
  if (rateSpm < runningRateRange.value[0]) return "walking";
  const odds = runningLogOdds(rateSpm, bounce);
  if (odds >= RUNNING_LOG_ODDS) return "running";
  return odds <= -WALKING_LOG_ODDS ? "walking" : "unknown";
}

/** How far the bounce falls short of running's, in spreads. */
function flightOff(bounce: StepBounce): number {
  const { running } = stepBounce.value;
  const unlike = unlikenessOf(bounce);
  const centreLog = Math.log(between(running.alikeMps2, running.unlikeMps2, unlike));
  return (centreLog - bounceLogOf(bounce)) / between(running.logSpreadAlike, running.logSpreadUnlike, unlike);
}

/** 0 where the two steps are alike, 1 where nothing repeats with the step. */
function unlikenessOf({ stepShare, strideShare }: StepBounce): number {
  return strideShare > 0 ? Math.min(1, Math.max(0, 1 - stepShare / strideShare)) : 1;
}

function bounceLogOf({ rmsMps2, stepShare }: StepBounce): number {
  return Math.log(Math.max(1e-3, rmsMps2)) + 0.5 * Math.log(Math.max(1e-6, stepShare));
}

function between(alike: number, unlike: number, unlikeness: number): number {
  return alike + (unlike - alike) * unlikeness;
}

/** Logarithm of the odds for running against walking: both Gaussian in the logarithm of the bounce; and what the rate says. */
export function runningLogOdds(rateSpm: number, bounce: StepBounce): number {
  const { running, walking, walkingReferenceSpm } = stepBounce.value;
  const unlike = unlikenessOf(bounce);
  const bounceLog = bounceLogOf(bounce);
  const logDensity = (centreMps2: number, spread: number): number =>
    -0.5 * ((bounceLog - Math.log(centreMps2)) / spread) ** 2 - Math.log(spread);
  const growth = (rateSpm / walkingReferenceSpm) ** 2;
  const asRunning = logDensity(
    between(running.alikeMps2, running.unlikeMps2, unlike),
    between(running.logSpreadAlike, running.logSpreadUnlike, unlike),
  );
  const asWalking = logDensity(
    growth * between(walking.alikeMps2, walking.unlikeMps2, unlike),
    between(walking.logSpreadAlike, walking.logSpreadUnlike, unlike),
  );
  return asRunning - asWalking + rateOdds(rateSpm);
}

/** What the rate alone says: walking this quick is rare, running this slow is not. */
function rateOdds(rateSpm: number): number {
  const { evenSpm, spmPerNat, leastNats, mostNats } = gaitByRate.value;
  return Math.max(leastNats, Math.min(mostNats, (rateSpm - evenSpm) / spmPerNat));
}
