// One side of the before/after field: step rate over speed.
import type { FieldLine, FieldPoint, Overlap } from "./comparison.ts";
import type { PreparedRun } from "./prepare-runs.ts";

export interface FieldLineInput {
  /** ln step rate at the reference speed. */
  readonly lnRate: number;
  readonly referenceSpeedMps: number;
  readonly exponent: number;
  readonly overlap: Overlap;
}

const GRID_COUNT = 25;

/** The fitted power curve over the speeds of both sides (so that both lines can be laid over each other), and the points behind it. */
export function fieldLine(side: readonly PreparedRun[], input: FieldLineInput): FieldLine {
  const low = Math.min(input.overlap.beforeMps.low, input.overlap.afterMps.low, input.referenceSpeedMps);
  const high = Math.max(input.overlap.beforeMps.high, input.overlap.afterMps.high, input.referenceSpeedMps);
  const point = (lnSpeed: number, lnStepRate: number): FieldPoint => ({
    speedMps: Math.exp(lnSpeed),
    stepRateSpm: Math.exp(lnStepRate),
  });
  const line = Array.from({ length: GRID_COUNT }, (_, k) => {
    const speedMps = low + ((high - low) * k) / (GRID_COUNT - 1);
    return { speedMps, stepRateSpm: Math.exp(input.lnRate) * (speedMps / input.referenceSpeedMps) ** input.exponent };
  });
  const runs = side.map((run) => {
    const mean = (of: (minute: PreparedRun["minutes"][number]) => number): number =>
      run.minutes.reduce((sum, minute) => sum + of(minute), 0) / run.minutes.length;
    return {
      runId: run.id,
      ...point(
        mean((m) => m.lnSpeed),
        mean((m) => m.lnStepRate),
      ),
    };
  });
  const minutes = side.flatMap((run) => run.minutes.map((minute) => point(minute.lnSpeed, minute.lnStepRate)));
  return { line, runs, minutes };
}
