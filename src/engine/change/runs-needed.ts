// How many more runs until the matched-speed change is known well enough.
import type { NotEnough } from "../quantities/uncertain.ts";
import type { RunsStillNeeded } from "./comparison.ts";
import { t95 } from "./student-t.ts";

export interface RunsNeededInput {
  readonly beforeRunCount: number;
  readonly afterRunCount: number;
  /** Variance of one run's mean ln step rate around the runner's own line: day to day plus within the run. */
  readonly runVariance: number;
  /** Variance of the change that more runs at these speeds do not remove (the assumed slope over speed). */
  readonly leaningVariance: number;
  /** Wanted 95 % half-width, as a share of step rate. */
  readonly halfWidth: number;
}

const MOST_RUNS = 40;

/** Expected 95 % half-width for so many runs a side; the day-to-day prior counts as about one degree of freedom. */
export function expectedHalfWidth(before: number, after: number, runVariance: number, leaningVariance: number): number {
  return t95(before + after - 1) * Math.sqrt(runVariance * (1 / before + 1 / after) + leaningVariance);
}

/**
 * Fewest further runs, each added where it helps most, until the half-width is reached with at least two runs a side.
 * Not enough when 40 more runs would not do it.
 */
export function runsStillNeeded(input: RunsNeededInput): RunsStillNeeded | NotEnough {
  let before = input.beforeRunCount;
  let after = input.afterRunCount;
  const added = { before: 0, after: 0 };
  while (added.before + added.after <= MOST_RUNS) {
    const reached = expectedHalfWidth(before, after, input.runVariance, input.leaningVariance) <= input.halfWidth;
    if (reached && before >= 2 && after >= 2) return { total: added.before + added.after, ...added };
    if (before < after) {
      before += 1;
      added.before += 1;
    } else {
      after += 1;
      added.after += 1;
    }
  }
  return {
    kind: "not-enough",
    need: "runs before and after at the same speed",
    have: `speeds so different, or days so different, that ${MOST_RUNS} more runs would not settle it`,
  };
}
