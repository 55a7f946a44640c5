// One simulated history with known truth, compared: what a calibration is made of.
import { createRandom } from "../quantities/random.ts";
import type { Finding } from "./comparison.ts";
import { compareRuns } from "./compare-runs.ts";
import { findingOf } from "./finding.ts";
import type { RunnerPrior } from "./group-prior.ts";
import { simulateHistory, type HistoryTruth } from "./simulate-history.ts";

export interface CalibratedHistory {
  readonly truth: HistoryTruth;
  /** Does the 95 % interval of the change in percent hold the truth? */
  readonly held: boolean;
  readonly finding: Finding;
  readonly estimatePercent: number;
  /** As measured, with the receiver's errors. */
  readonly speedChangePercent: number;
  /** Finding if the true change had been this much more, percent: the model is linear in the logarithm, so the interval just moves. */
  readonly findingIfChanged: (percent: number) => Finding;
}

type Range = readonly [number, number];

/** What a history's surroundings are drawn from. */
export interface Surroundings {
  readonly minutesPerRun: Range;
  readonly windowRho: Range;
  readonly exponent: Range;
  readonly residualSdPercent: Range;
  readonly positionErrorM: Range;
  readonly speedBiasSdPercent: Range;
  /** Days now and then far off, and an exponent that differs from run to run. */
  readonly harder?: boolean;
}

/** The surroundings that the issue of calibration was posed in. */
export const USUAL: Surroundings = {
  minutesPerRun: [10, 40],
  windowRho: [0.8, 0.95],
  exponent: [0.1, 0.22],
  residualSdPercent: [0.5, 1],
  positionErrorM: [2, 4],
  speedBiasSdPercent: [0.5, 1.5],
};

/** Wider and harder ones, that nothing in the model was chosen on. */
export const ELSEWHERE: Surroundings = {
  minutesPerRun: [8, 60],
  windowRho: [0.7, 0.97],
  exponent: [0.06, 0.24],
  residualSdPercent: [0.3, 1.4],
  positionErrorM: [1, 6],
  speedBiasSdPercent: [0, 2],
  harder: true,
};

export interface CalibrationCell {
  readonly beforeRunCount: number;
  readonly afterRunCount: number;
  readonly dayToDaySdPercent: number;
  readonly changePercent: number;
  /** Low and high of the true speed change. */
  readonly speedChangePercent: Range;
}

/** One simulated and compared history. Everything that the cell does not fix is drawn evenly from its range by the seed. */
export function calibrateOne(
  cell: CalibrationCell,
  seed: number,
  surroundings: Surroundings = USUAL,
  groupPrior?: RunnerPrior,
): CalibratedHistory {
  const random = createRandom(seed);
  const draw = ([low, high]: Range): number => low + (high - low) * random.next();
  const truth: HistoryTruth = {
    beforeRunCount: cell.beforeRunCount,
    afterRunCount: cell.afterRunCount,
    dayToDaySdPercent: cell.dayToDaySdPercent,
    changePercent: cell.changePercent,
    speedChangePercent: draw(cell.speedChangePercent),
    minutesPerRun: Math.round(draw(surroundings.minutesPerRun)),
    windowRho: draw(surroundings.windowRho),
    exponent: draw(surroundings.exponent),
    residualSdPercent: draw(surroundings.residualSdPercent),
    positionErrorM: draw(surroundings.positionErrorM),
    speedBiasSdPercent: draw(surroundings.speedBiasSdPercent),
    longMemory: random.next() < 0.25,
    surface: random.next() < 0.15 ? "treadmill" : "outdoor",
    ...(surroundings.harder === true ? { heavyDays: true, slopeSd: 0.05 } : {}),
  };
  const history = simulateHistory(truth, random.below(2 ** 31));
  const result = compareRuns(history.before, history.after, groupPrior === undefined ? {} : { groupPrior });
  if (!result.ok) throw new Error(`calibrateOne: a simulated history was refused: ${result.problems[0]?.code}`);
  const comparison = result.value;
  const { estimate, interval95 } = comparison.matchedSpeedChangePercent;
  const spmPerPercent = comparison.matchedSpeedChangeSpm.interval95.high / interval95.high;
  const findingIfChanged = (percent: number): Finding => {
    const moved = (value: number): number => spmPerPercent * ((1 + value / 100) * (1 + percent / 100) - 1) * 100;
    return findingOf({
      changeSpm: {
        estimate: moved(estimate),
        interval95: { low: moved(interval95.low), high: moved(interval95.high) },
      },
      speedChangePercent: comparison.speedChangePercent,
      beforeRunCount: cell.beforeRunCount,
      afterRunCount: cell.afterRunCount,
    });
  };
  return {
    truth,
    held: interval95.low <= cell.changePercent && cell.changePercent <= interval95.high,
    finding: comparison.finding,
    estimatePercent: estimate,
    speedChangePercent: comparison.speedChangePercent,
    findingIfChanged,
  };
}
