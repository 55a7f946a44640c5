// The running windows of one recording in three figures: step rate, speed, step length.
import { longMemoryExponent, withinRunCv } from "../evidence/measuring.ts";
import { SECONDS_PER_MINUTE, stepLengthM } from "../quantities/units.ts";
import type { RateWindow } from "../recordings/window.ts";
import type { Summary } from "./analysis.ts";

export interface RunSummary {
  readonly stepRateSpm: Summary | null;
  readonly speedMps: Summary | null;
  readonly stepLengthM: Summary | null;
  /** Running and walking, overlap counted once. */
  readonly movingS: number;
  readonly runningS: number;
}

/**
 * Summaries over the windows of running. The standard error of a mean is sd · n^(H − 1) over n windows that do not
 * overlap (H from the evidence: runners wander slowly); for the step rate at least what 2 % of step-to-step
 * variation leaves. Two windows at least, else null.
 */
export function summariseWindows(windows: readonly RateWindow[]): RunSummary {
  const running = windows.filter((window) => window.state === "running");
  const rated = running.flatMap((w) => (w.stepRateSpm === null ? [] : [{ w, value: w.stepRateSpm }]));
  const speeds = running.flatMap((w) => (w.speedMps === null ? [] : [{ w, value: w.speedMps }]));
  const lengths = running.flatMap((w) =>
    w.stepRateSpm === null || w.speedMps === null ? [] : [{ w, value: stepLengthM(w.speedMps, w.stepRateSpm) }],
  );
  const rate = summarise(rated);
  const stepCount = (coveredSeconds(rated.map(({ w }) => w)) * (rate?.mean ?? 0)) / SECONDS_PER_MINUTE;
  return {
    stepRateSpm:
      rate === null
        ? null
        : {
            ...rate,
            standardError: Math.max(
              rate.standardError,
              withinRunCv.value * rate.mean * stepCount ** (longMemoryExponent.value - 1),
            ),
          },
    speedMps: summarise(speeds),
    stepLengthM: summarise(lengths),
    movingS: coveredSeconds(windows.filter((w) => w.state === "running" || w.state === "walking")),
    runningS: coveredSeconds(running),
  };
}

/** Length of the union of windows in order of time. */
function coveredSeconds(windows: readonly RateWindow[]): number {
  let covered = 0;
  let reachedS = -Infinity;
  for (const window of windows) {
    covered += Math.max(0, window.endS - Math.max(window.startS, reachedS));
    reachedS = Math.max(reachedS, window.endS);
  }
  return covered;
}

interface Valued {
  readonly w: RateWindow;
  readonly value: number;
}

function summarise(entries: readonly Valued[]): Summary | null {
  if (entries.length < 2) return null;
  const values = entries.map((entry) => entry.value).sort((a, b) => a - b);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
  const usualS = entries.reduce((sum, { w }) => sum + w.endS - w.startS, 0) / entries.length;
  const apart = Math.max(1, coveredSeconds(entries.map(({ w }) => w)) / usualS);
  return {
    mean,
    standardError: sd * apart ** (longMemoryExponent.value - 1),
    p05: quantile(values, 0.05),
    p95: quantile(values, 0.95),
  };
}

/** Hyndman & Fan 1996, definition 7. */
function quantile(sorted: readonly number[], share: number): number {
  const at = share * (sorted.length - 1);
  const below = Math.floor(at);
  const low = sorted[below]!;
  return low + (at - below) * ((sorted[below + 1] ?? low) - low);
}
