// What the runs of a group tell about one more runner: how much days differ, and how step rate grows with speed. Empirical Bayes: the
// group's figures are themselves drawn towards the published ones, by as much as the group has to say.
import { DAY_TO_DAY_SD, RUNNERS_DIFFER_LOG_SD, SPEED_EXPONENT } from "../evidence/change.ts";
import type { NotEnough } from "../quantities/uncertain.ts";
import type { Normal } from "./speed-exponent.ts";

/** What is borrowed for a runner: the exponent, and a log-normal for the day-to-day spread. */
export interface RunnerPrior {
  readonly exponent: Normal;
  readonly dayToDay: { readonly median: number; readonly logSd: number };
}

export interface GroupPrior extends RunnerPrior {
  /** How many other runners stand behind it, and how much it still leans on published values, 0–1. */
  readonly runnerCount: number;
  readonly publishedShare: { readonly exponent: number; readonly dayToDay: number };
}

/** One run of a group, as means over its steady minutes. */
export interface GroupRun {
  readonly runnerId: string;
  /** Runs under the same conditions: before, or after. Runs in which the step rate is being changed do not belong here. */
  readonly phase: string;
  readonly lnStepRate: number;
  readonly lnSpeed: number;
}

const LEAST_RUNNERS = 5;
const LEAST_FREE_RUNS = 10;

/**
 * The prior for a runner of this group, from the runs of the others. Within each runner and phase, every run is compared with the
 * mean of its kind: least squares for the exponent, the rest is the day-to-day spread. Not enough under five runners with two
 * runs of a kind, or ten runs beyond the means.
 */
export function groupPriorOf(runs: readonly GroupRun[]): GroupPrior | NotEnough {
  const cells = new Map<string, GroupRun[]>();
  for (const run of runs) {
    const key = JSON.stringify([run.runnerId, run.phase]);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [run]);
    else cell.push(run);
  }
  const repeated = [...cells.values()].filter((cell) => cell.length >= 2);
  const runnerCount = new Set(repeated.map((cell) => cell[0]!.runnerId)).size;
  const rows = repeated.flatMap(centred);
  const free = rows.length - repeated.length - 1;
  if (runnerCount < LEAST_RUNNERS || free < LEAST_FREE_RUNS)
    return {
      kind: "not-enough",
      need: `${LEAST_RUNNERS} other runners with two runs or more of a kind, and ${LEAST_FREE_RUNS} runs beyond their means`,
      have: `${runnerCount} runners, ${Math.max(0, free)} runs`,
    };
  const sum = (of: (row: { x: number; y: number }) => number): number =>
    rows.reduce((total, row) => total + of(row), 0);
  const xx = sum(({ x }) => x * x);
  const slope = xx > 0 ? sum(({ x, y }) => x * y) / xx : 0;
  const spread = Math.sqrt(Math.max(sum(({ x, y }) => (y - slope * x) ** 2) / free, 1e-10));
  const published = SPEED_EXPONENT.value;
  const slopeShare = xx > 0 ? published.sd ** 2 / (published.sd ** 2 + spread ** 2 / xx) : 0;
  // The published width is made of two: how groups differ, and how runners differ within one.
  const between = DAY_TO_DAY_SD.value.logSd ** 2 - RUNNERS_DIFFER_LOG_SD.value ** 2;
  // The logarithm of a spread on f degrees of freedom has variance 1/(2f); unlike runners add theirs.
  const own = 1 / (2 * free) + RUNNERS_DIFFER_LOG_SD.value ** 2 / runnerCount;
  const spreadShare = between / (between + own);
  const lnMedian = Math.log(DAY_TO_DAY_SD.value.median);
  return {
    exponent: {
      mean: published.mean + slopeShare * (slope - published.mean),
      sd: published.sd * Math.sqrt(2 - slopeShare),
    },
    dayToDay: {
      median: Math.exp(lnMedian + spreadShare * (Math.log(spread) - lnMedian)),
      logSd: Math.sqrt(RUNNERS_DIFFER_LOG_SD.value ** 2 + (1 - spreadShare) * between),
    },
    runnerCount,
    publishedShare: { exponent: 1 - slopeShare, dayToDay: 1 - spreadShare },
  };
}

function centred(cell: readonly GroupRun[]): { x: number; y: number }[] {
  const mean = (of: (run: GroupRun) => number): number => cell.reduce((sum, run) => sum + of(run), 0) / cell.length;
  const [x0, y0] = [mean((run) => run.lnSpeed), mean((run) => run.lnStepRate)];
  return cell.map((run) => ({ x: run.lnSpeed - x0, y: run.lnStepRate - y0 }));
}
