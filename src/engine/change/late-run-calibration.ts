// How often does the interval of the late-run drop hold the truth? Simulated runs in which nothing falls.
import { createRandom } from "../quantities/random.ts";
import { lateRunDrop } from "./late-run-drop.ts";
import { simulateHistory } from "./simulate-history.ts";

export interface LateRunCell {
  readonly minutesPerRun: number;
  /** Correlation of neighbouring ten-second windows. */
  readonly windowRho: number;
  readonly held: number;
  readonly runCount: number;
  /** Mean width of the interval, spm. */
  readonly meanWidthSpm: number;
}

export const LATE_RUN_MINUTES = [13, 18, 28, 40, 60] as const;
export const LATE_RUN_RHOS = [0.8, 0.875, 0.95] as const;

/** One cell for each length and correlation; everything else as in the usual surroundings of the calibration. */
export function calibrateLateRun(perCell: number, seed: number): LateRunCell[] {
  const random = createRandom(seed);
  return LATE_RUN_MINUTES.flatMap((minutesPerRun) =>
    LATE_RUN_RHOS.map((windowRho): LateRunCell => {
      let [held, width, runCount] = [0, 0, 0];
      for (let k = 0; k < perCell; k += 1) {
        const history = simulateHistory(
          {
            beforeRunCount: 1,
            afterRunCount: 0,
            minutesPerRun,
            changePercent: 0,
            speedChangePercent: 0,
            exponent: 0.1 + 0.12 * random.next(),
            dayToDaySdPercent: 1,
            windowRho,
            residualSdPercent: 0.5 + 0.5 * random.next(),
            positionErrorM: 2 + 2 * random.next(),
            speedBiasSdPercent: 1,
          },
          random.below(2 ** 31),
        );
        const drop = lateRunDrop(history.before[0]?.windows ?? [], { seed: k + 1 });
        if ("kind" in drop) continue;
        runCount += 1;
        if (drop.interval95.low <= 0 && drop.interval95.high >= 0) held += 1;
        width += drop.interval95.high - drop.interval95.low;
      }
      return { minutesPerRun, windowRho, held, runCount, meanWidthSpm: width / Math.max(1, runCount) };
    }),
  );
}
