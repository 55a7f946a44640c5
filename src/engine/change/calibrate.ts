// How often is the comparison right? Simulated histories with known truth over a grid, and what came out of them.
import { SPEED_UP_LIMIT_PERCENT } from "../evidence/change.ts";
import { createRandom } from "../quantities/random.ts";
import { calibrateOne, type CalibratedHistory, type Surroundings, USUAL } from "./calibrate-one.ts";
import { findingSaysChange } from "./finding.ts";
import type { HistoryTruth } from "./simulate-history.ts";

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

export interface CalibrationGrid {
  readonly runCounts: readonly number[];
  readonly dayToDaySdsPercent: readonly number[];
  readonly surroundings: Surroundings;
}

export const USUAL_GRID: CalibrationGrid = {
  runCounts: [1, 2, 3, 4, 5, 6],
  dayToDaySdsPercent: [0.5, 1, 1.5, 2, 2.5],
  surroundings: USUAL,
};

/** True rises of speed at which a runner who only ran faster is looked at; from just above the 3 % of the finding's definition. */
export const FASTER_RISES_PERCENT = [4, 5, 6, 8, 10, 15] as const;

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
  /** The same by how much faster. */
  readonly fasterByRise: readonly {
    readonly risePercent: number;
    /** Histories in which the measured speed rose by more than 3 %, as the finding asks. */
    readonly measuredFaster: Share;
    /** Named, of all and of those. */
    readonly named: Share;
    readonly namedOfMeasuredFaster: Share;
    readonly calledChange: Share;
  }[];
}

/** Runs the whole grid: `perCell` histories for each number of runs and day-to-day spread, in three kinds (nothing, a change, only faster). */
export function calibrate(perCell: number, seed: number, grid: CalibrationGrid = USUAL_GRID): CalibrationReport {
  const { runCounts, dayToDaySdsPercent, surroundings } = grid;
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
        surroundings,
      ),
    );
  };
  for (const n of runCounts)
    for (const sd of dayToDaySdsPercent)
      for (let k = 0; k < perCell; k += 1) {
        if (k % 4 === 0) cell(n, sd, 0, [-5, 5]);
        // More runs after than before, as it often is.
        else if (k % 4 === 1) cell(n, sd, 0, [-5, 5], n + random.below(Math.max(1, 7 - n)));
        else if (k % 4 === 2) cell(n, sd, 2 + 6 * random.next(), [-5, 5]);
        else cell(n, sd, 0, [8, 15]);
      }
  for (let k = 0; k < Math.max(24, 4 * perCell); k += 1) {
    cell(4, 1, 5, [-5, 5]);
    cell(4, k % 2 === 0 ? 0.5 : 1, 0, [8, 15]);
  }
  const rises = FASTER_RISES_PERCENT.map((risePercent) => {
    const histories = Array.from({ length: 2 * perCell }, (_, k) =>
      calibrateOne(
        {
          beforeRunCount: 4,
          afterRunCount: 4,
          dayToDaySdPercent: k % 2 === 0 ? 0.5 : 1,
          changePercent: 0,
          speedChangePercent: [risePercent, risePercent],
        },
        random.below(2 ** 31),
        surroundings,
      ),
    );
    return { risePercent, histories };
  });
  const still = all.filter((history) => history.truth.changePercent === 0);
  const onlyFaster = still.filter((history) => history.truth.speedChangePercent >= 8);
  const notFaster = still.filter((history) => history.truth.speedChangePercent < 8);
  const inCell = (histories: readonly CalibratedHistory[], n: number, sd: number): CalibratedHistory[] =>
    histories.filter(({ truth }) => truth.beforeRunCount === n && truth.dayToDaySdPercent === sd);
  const byCell = (
    histories: readonly CalibratedHistory[],
    of: (history: CalibratedHistory) => boolean,
  ): CalibrationReport["coverageByCell"] =>
    runCounts.flatMap((runCount) =>
      dayToDaySdsPercent.map((dayToDaySdPercent) => ({
        runCount,
        dayToDaySdPercent,
        share: shareOf(inCell(histories, runCount, dayToDaySdPercent), of),
      })),
    );
  return {
    historyCount: all.length + rises.reduce((sum, { histories }) => sum + histories.length, 0),
    coverage: shareOf(all, (history) => history.held),
    coverageByCell: byCell(all, (history) => history.held),
    coverageByFactor: FACTORS.flatMap(([factor, of]) => {
      const histories = all.filter(({ truth }) => truth.beforeRunCount >= 2 && of(truth));
      return histories.length === 0 ? [] : [{ factor, share: shareOf(histories, (history) => history.held) }];
    }),
    falseChanged: shareOf(
      notFaster.filter(({ truth }) => truth.beforeRunCount >= 2),
      (history) => findingSaysChange(history.finding),
    ),
    falseChangedByCell: byCell(notFaster, (history) => findingSaysChange(history.finding)),
    fivePercentFound: shareOf(
      inCell(all, 4, 1).filter((history) => history.truth.changePercent === 5),
      (history) => findingSaysChange(history.finding),
    ),
    fasterCalledChange: shareOf(onlyFaster, (history) => findingSaysChange(history.finding)),
    fasterNamed: shareOf(
      onlyFaster.filter(({ truth }) => truth.beforeRunCount === 4 && truth.dayToDaySdPercent <= 1),
      (history) => history.finding === "faster-only",
    ),
    fasterByRise: rises.map(({ risePercent, histories }) => {
      const named = (history: CalibratedHistory): boolean => history.finding === "faster-only";
      const measured = histories.filter((history) => history.speedChangePercent > SPEED_UP_LIMIT_PERCENT.value);
      return {
        risePercent,
        measuredFaster: shareOf(histories, (history) => history.speedChangePercent > SPEED_UP_LIMIT_PERCENT.value),
        named: shareOf(histories, named),
        namedOfMeasuredFaster: shareOf(measured, named),
        calledChange: shareOf(histories, (history) => findingSaysChange(history.finding)),
      };
    }),
  };
}
