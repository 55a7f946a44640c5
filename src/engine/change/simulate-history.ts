// Invented runner histories with known truth, to see how often the comparison is right. Nothing here is shared with the fitted
// model: windows of ten seconds, speed from noisy positions with a drifting bias, an AR(1) (or long-memory) step rate, hills,
// stops, a runner's own exponent, and days that differ.
import { createRandom, type Random } from "../quantities/random.ts";
import type { RateWindow } from "../recordings/window.ts";
import type { Run } from "./run.ts";

export interface HistoryTruth {
  readonly beforeRunCount: number;
  readonly afterRunCount: number;
  readonly minutesPerRun: number;
  /** True change at matched speed, percent. */
  readonly changePercent: number;
  /** True change of running speed, percent. */
  readonly speedChangePercent: number;
  readonly exponent: number;
  readonly dayToDaySdPercent: number;
  /** Correlation of neighbouring ten-second windows, and the residual spread. */
  readonly windowRho: number;
  readonly residualSdPercent: number;
  /** Error of one position, metres. */
  readonly positionErrorM: number;
  /** Spread from run to run of the receiver's scale error, percent. */
  readonly speedBiasSdPercent: number;
  /** Add a slow second component, so that the memory is longer than an AR(1)'s. */
  readonly longMemory?: boolean;
  /** Days that now and then lie far off: Student's t with five degrees of freedom, scaled to the same SD. */
  readonly heavyDays?: boolean;
  /** How much the exponent differs from run to run (SD). */
  readonly slopeSd?: number;
  readonly surface?: "outdoor" | "treadmill";
  readonly stepRateSpm?: number;
  readonly speedMps?: number;
}

const WINDOW_S = 10;
const UPHILL = 0.55;

/** Runs before and after of one invented runner. The same truth and seed give the same history. */
export function simulateHistory(truth: HistoryTruth, seed: number): { before: Run[]; after: Run[] } {
  const random = createRandom(seed);
  const runner = {
    stepRateSpm: truth.stepRateSpm ?? 166 + 6 * random.normal(),
    speedMps: truth.speedMps ?? 2.9 + 0.25 * random.normal(),
  };
  const side = (phase: 0 | 1, count: number): Run[] =>
    Array.from({ length: count }, (_, index) => simulateRun(truth, runner, phase, index, random));
  return { before: side(0, truth.beforeRunCount), after: side(1, truth.afterRunCount) };
}

function simulateRun(
  truth: HistoryTruth,
  runner: { readonly stepRateSpm: number; readonly speedMps: number },
  phase: 0 | 1,
  index: number,
  random: Random,
): Run {
  const treadmill = truth.surface === "treadmill";
  const count = Math.round((truth.minutesPerRun * 60) / WINDOW_S);
  const dayEffect =
    (truth.dayToDaySdPercent / 100) * (truth.heavyDays === true ? heavyTailed(random) : random.normal());
  const exponent = truth.slopeSd === undefined ? truth.exponent : truth.exponent + truth.slopeSd * random.normal();
  const meanSpeed = runner.speedMps * (1 + (phase * truth.speedChangePercent) / 100) * (1 + 0.02 * random.normal());
  const scaleError = treadmill ? 0 : (truth.speedBiasSdPercent / 100) * random.normal();
  const sd = truth.residualSdPercent / 100;
  let residual = sd * random.normal();
  let slow = sd * random.normal();
  let wander = random.normal();
  let hill = random.normal();
  let positionError = truth.positionErrorM * random.normal();
  const windows: RateWindow[] = [];
  for (let k = 0; k < count; k += 1) {
    residual = truth.windowRho * residual + sd * Math.sqrt(1 - truth.windowRho ** 2) * random.normal();
    slow = 0.995 * slow + sd * Math.sqrt(1 - 0.995 ** 2) * random.normal();
    wander = 0.97 * wander + Math.sqrt(1 - 0.97 ** 2) * random.normal();
    hill = 0.96 * hill + Math.sqrt(1 - 0.96 ** 2) * random.normal();
    const slope = treadmill ? 0 : 0.012 * hill;
    const speed = treadmill ? meanSpeed : meanSpeed * (1 + 0.03 * wander - 0.8 * slope);
    const noise = truth.longMemory === true ? 0.8 * residual + 0.6 * slow : residual;
    const rate =
      runner.stepRateSpm *
      (1 + (phase * truth.changePercent) / 100) *
      (speed / runner.speedMps) ** exponent *
      Math.exp(dayEffect + noise + UPHILL * Math.max(0, slope));
    // Position errors drift over about a minute; the speed of a window inherits the difference at its ends.
    const before = positionError;
    positionError = 0.8 * positionError + truth.positionErrorM * 0.6 * random.normal();
    const measured = treadmill ? speed : speed * (1 + scaleError) + (positionError - before) / WINDOW_S;
    // The first minutes are quicker and still settling.
    const settling = 0.02 * Math.exp((-k * WINDOW_S) / 60);
    windows.push({
      startS: k * WINDOW_S,
      endS: (k + 1) * WINDOW_S,
      stepRateSpm: rate * (1 + settling),
      speedMps: Math.max(0.6, measured),
      slope: treadmill ? 0 : slope + 0.004 * random.normal(),
      heartRateBpm: null,
      quality: 0.95,
      state: "running",
      cue: null,
    });
  }
  return {
    id: `${phase === 0 ? "before" : "after"}-${index + 1}`,
    surface: treadmill ? "treadmill" : "outdoor",
    windows,
  };
}

/** Student's t with five degrees of freedom over its standard deviation √(5/3). */
function heavyTailed(random: Random): number {
  const square = Array.from({ length: 5 }, () => random.normal() ** 2).reduce((a, b) => a + b, 0);
  return random.normal() / Math.sqrt(square / 5) / Math.sqrt(5 / 3);
}
