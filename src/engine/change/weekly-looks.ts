// A coach looks every week. How often does a runner in whom nothing changed ever look changed, by the finding of each week alone and by
// the sequential verdict, and how long does a real change take?
import { createRandom } from "../quantities/random.ts";
import { compareRuns } from "./compare-runs.ts";
import { findingSaysChange } from "./finding.ts";
import { simulateHistory } from "./simulate-history.ts";

export interface WeeklyLooksInput {
  readonly historyCount: number;
  readonly weekCount: number;
  readonly changePercent: number;
  readonly seed: number;
}

export interface WeeklyLooks {
  /** Histories in which some week's finding was `changed` or `both`. */
  readonly everByFinding: number;
  /** Histories in which the sequential verdict ever was `changed`, before `no-change`. */
  readonly everByVerdict: number;
  /** Histories in which the sequential verdict came to `no-change` first. */
  readonly noChangeByVerdict: number;
  /** Median week of the sequential verdict `changed` among those that had it; undefined when none had. */
  readonly medianWeek: number | undefined;
}

const RUNS_PER_WEEK = 2;

/** Shares of 1. Two to four runs before, two a week after, day-to-day spread 0.5 to 2.5 %; the rest as in the calibration's usual surroundings. */
export function weeklyLooks(input: WeeklyLooksInput): WeeklyLooks {
  const random = createRandom(input.seed);
  let [byFinding, byVerdict, none] = [0, 0, 0];
  const weeks: number[] = [];
  for (let k = 0; k < input.historyCount; k += 1) {
    const history = simulateHistory(
      {
        beforeRunCount: 2 + random.below(3),
        afterRunCount: RUNS_PER_WEEK * input.weekCount,
        minutesPerRun: 15 + random.below(21),
        changePercent: input.changePercent,
        speedChangePercent: -2 + 5 * random.next(),
        exponent: 0.1 + 0.12 * random.next(),
        dayToDaySdPercent: 0.5 + 2 * random.next(),
        windowRho: 0.8 + 0.15 * random.next(),
        residualSdPercent: 0.5 + 0.5 * random.next(),
        positionErrorM: 3,
        speedBiasSdPercent: 1,
      },
      random.below(2 ** 31),
    );
    let found = false;
    let verdict = "go-on";
    for (let week = 1; week <= input.weekCount; week += 1) {
      const result = compareRuns(history.before, history.after.slice(0, RUNS_PER_WEEK * week));
      if (!result.ok) throw new Error("weeklyLooks: a simulated history was refused");
      found ||= findingSaysChange(result.value.finding);
      if (verdict !== "go-on") continue;
      verdict = result.value.everyLook.verdict;
      if (verdict === "changed") weeks.push(week);
    }
    if (found) byFinding += 1;
    if (verdict === "changed") byVerdict += 1;
    if (verdict === "no-change") none += 1;
  }
  const share = (count: number): number => count / input.historyCount;
  return {
    everByFinding: share(byFinding),
    everByVerdict: share(byVerdict),
    noChangeByVerdict: share(none),
    medianWeek: weeks.toSorted((a, b) => a - b)[Math.floor(weeks.length / 2)],
  };
}
