// How often is the comparison right? Simulated histories with known truth over a grid, and what came out of them.
import { createRandom } from "../quantities/random.ts";
import type { Finding } from "./comparison.ts";
import { compareRuns } from "./compare-runs.ts";
import { findingOf } from "./finding.ts";
import { simulateHistory, type HistoryTruth } from "./simulate-history.ts";

export interface CalibratedHistory {
  readonly truth: HistoryTruth;
  /** Does the 95 % interval of the change in percent hold the truth? */
  readonly held: boolean;
  readonly finding: Finding;
  readonly estimatePercent: number;
  /** Finding if the true change had been this much more, percent: the model is linear in the logarithm, so the interval just moves. */
  readonly findingIfChanged: (percent: number) => Finding;
}

/** The range that a history's surroundings are drawn from. */
const RANGE = {
  minutesPerRun: [10, 40],
  windowRho: [0.8, 0.95],
  exponent: [0.1, 0.22],
  residualSdPercent: [0.5, 1],
  positionErrorM: [2, 4],
  speedBiasSdPercent: [0.5, 1.5],
} as const;

export interface CalibrationCell {
  readonly beforeRunCount: number;
  readonly afterRunCount: number;
  readonly dayToDaySdPercent: number;
  readonly changePercent: number;
  /** Low and high of the true speed change. */
  readonly speedChangePercent: readonly [number, number];
}

/** One simulated and compared history. Everything that the cell does not fix is drawn evenly from its range by the seed. */
export function calibrateOne(cell: CalibrationCell, seed: number): CalibratedHistory {
  const random = createRandom(seed);
  const draw = ([low, high]: readonly [number, number]): number => low + (high - low) * random.next();
  const truth: HistoryTruth = {
    beforeRunCount: cell.beforeRunCount,
    afterRunCount: cell.afterRunCount,
    dayToDaySdPercent: cell.dayToDaySdPercent,
    changePercent: cell.changePercent,
    speedChangePercent: draw(cell.speedChangePercent),
    minutesPerRun: Math.round(draw(RANGE.minutesPerRun)),
    windowRho: draw(RANGE.windowRho),
    exponent: draw(RANGE.exponent),
    residualSdPercent: draw(RANGE.residualSdPercent),
    positionErrorM: draw(RANGE.positionErrorM),
    speedBiasSdPercent: draw(RANGE.speedBiasSdPercent),
    longMemory: random.next() < 0.25,
    surface: random.next() < 0.15 ? "treadmill" : "outdoor",
  };
  const history = simulateHistory(truth, random.below(2 ** 31));
  const result = compareRuns(history.before, history.after);
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
    findingIfChanged,
  };
}

export interface Share {
  readonly share: number;
  readonly count: number;
  /** Standard error of the share by simulation. */
  readonly monteCarloError: number;
}

/** Share of histories for which `of` is true, with its Monte-Carlo error. */
function shareOf(histories: readonly CalibratedHistory[], of: (history: CalibratedHistory) => boolean): Share {
  const count = histories.length;
  const share = histories.filter(of).length / count;
  // Never zero: with no miss among n, one in n is still possible.
  const p = Math.min(Math.max(share, 1 / count), 1 - 1 / count);
  return { share, count, monteCarloError: Math.sqrt((p * (1 - p)) / count) };
}

export const RUN_COUNTS = [1, 2, 3, 4, 5, 6] as const;
export const DAY_TO_DAY_SDS_PERCENT = [0.5, 1, 1.5, 2, 2.5] as const;

const FACTORS: readonly (readonly [string, (truth: HistoryTruth) => boolean])[] = [
  ["10 to 20 minutes a run", (truth) => truth.minutesPerRun <= 20],
  ["30 to 40 minutes a run", (truth) => truth.minutesPerRun >= 30],
  ["exponent under 0.14", (truth) => truth.exponent < 0.14],
  ["exponent above 0.18", (truth) => truth.exponent > 0.18],
  ["residual correlation under 0.85", (truth) => truth.windowRho < 0.85],
  ["residual correlation above 0.90", (truth) => truth.windowRho > 0.9],
  ["memory longer than modelled", (truth) => truth.longMemory === true],
  ["8 to 15 % faster", (truth) => truth.speedChangePercent >= 8],
  ["more runs after than before", (truth) => truth.afterRunCount > truth.beforeRunCount],
  ["treadmill", (truth) => truth.surface === "treadmill"],
];

export interface CalibrationReport {
  readonly historyCount: number;
  readonly coverage: Share;
  readonly coverageByCell: readonly {
    readonly runCount: number;
    readonly dayToDaySdPercent: number;
    readonly share: Share;
  }[];
  /** Coverage by what the cells do not fix. */
  readonly coverageByFactor: readonly { readonly factor: string; readonly share: Share }[];
  /** Nothing changed, two or more runs a side, and `changed` or `both` was said. */
  readonly falseChanged: Share;
  readonly falseChangedByCell: readonly {
    readonly runCount: number;
    readonly dayToDaySdPercent: number;
    readonly share: Share;
  }[];
  /** +5 % with four runs a side and a day-to-day spread of 1 %: found. */
  readonly fivePercentFound: Share;
  /** Only faster (8 to 15 %): `changed` or `both` was said. */
  readonly fasterCalledChange: Share;
  /** Only faster, four runs a side, day-to-day spread 1 % or less: named so. */
  readonly fasterNamed: Share;
}

export const saysChange = (finding: Finding): boolean => finding === "changed" || finding === "both";

/** Runs the whole grid: `perCell` histories for each number of runs and day-to-day spread, in three kinds (nothing, a change, only faster). */
export function calibrate(perCell: number, seed: number): CalibrationReport {
  const random = createRandom(seed);
  const all: CalibratedHistory[] = [];
  const cell = (
    n: number,
    sd: number,
    changePercent: number,
    speed: readonly [number, number],
    afterRunCount = n,
  ): void => {
    all.push(
      calibrateOne(
        { beforeRunCount: n, afterRunCount, dayToDaySdPercent: sd, changePercent, speedChangePercent: speed },
        random.below(2 ** 31),
      ),
    );
  };
  for (const n of RUN_COUNTS)
    for (const sd of DAY_TO_DAY_SDS_PERCENT)
      for (let k = 0; k < perCell; k += 1) {
        if (k % 4 === 0) cell(n, sd, 0, [-5, 5]);
        // More runs after than before, as it often is.
        else if (k % 4 === 1) cell(n, sd, 0, [-5, 5], n + random.below(7 - n));
        else if (k % 4 === 2) cell(n, sd, 2 + 6 * random.next(), [-5, 5]);
        else cell(n, sd, 0, [8, 15]);
      }
  for (let k = 0; k < Math.max(24, 4 * perCell); k += 1) {
    cell(4, 1, 5, [-5, 5]);
    cell(4, k % 2 === 0 ? 0.5 : 1, 0, [8, 15]);
  }
  const still = all.filter((history) => history.truth.changePercent === 0);
  const onlyFaster = still.filter((history) => history.truth.speedChangePercent >= 8);
  const notFaster = still.filter((history) => history.truth.speedChangePercent < 8);
  const inCell = (histories: readonly CalibratedHistory[], n: number, sd: number): CalibratedHistory[] =>
    histories.filter(({ truth }) => truth.beforeRunCount === n && truth.dayToDaySdPercent === sd);
  const byCell = (
    histories: readonly CalibratedHistory[],
    of: (history: CalibratedHistory) => boolean,
  ): CalibrationReport["coverageByCell"] =>
    RUN_COUNTS.flatMap((runCount) =>
      DAY_TO_DAY_SDS_PERCENT.map((dayToDaySdPercent) => ({
        runCount,
        dayToDaySdPercent,
        share: shareOf(inCell(histories, runCount, dayToDaySdPercent), of),
      })),
    );
  return {
    historyCount: all.length,
    coverage: shareOf(all, (history) => history.held),
    coverageByCell: byCell(all, (history) => history.held),
    coverageByFactor: FACTORS.flatMap(([factor, of]) => {
      const histories = all.filter(({ truth }) => truth.beforeRunCount >= 2 && of(truth));
      return histories.length === 0 ? [] : [{ factor, share: shareOf(histories, (history) => history.held) }];
    }),
    falseChanged: shareOf(
      notFaster.filter(({ truth }) => truth.beforeRunCount >= 2),
      (history) => saysChange(history.finding),
    ),
    falseChangedByCell: byCell(notFaster, (history) => saysChange(history.finding)),
    fivePercentFound: shareOf(
      inCell(all, 4, 1).filter((history) => history.truth.changePercent === 5),
      (history) => saysChange(history.finding),
    ),
    fasterCalledChange: shareOf(onlyFaster, (history) => saysChange(history.finding)),
    fasterNamed: shareOf(
      onlyFaster.filter(({ truth }) => truth.beforeRunCount === 4 && truth.dayToDaySdPercent <= 1),
      (history) => history.finding === "faster-only",
    ),
  };
}
