// The settled step rate of a recorded run: warm-up dropped, steady level minutes kept, median of one-minute means.
import {
  levelSlope,
  longMemoryExponent,
  settlingTimeS,
  steadyMinuteCount,
  steadySpeedShare,
} from "../evidence/measuring.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { ownVariationSpm } from "./own-variation.ts";

export interface SteadyRate {
  readonly kind: "steady";
  /** Both feet; the error holds the runner's slow wandering. */
  readonly rate: Uncertain;
  /** Median of the same minutes; null when no speed was recorded. */
  readonly speedMps: number | null;
  readonly steadyMinuteCount: number;
  /** Seconds of steady running behind it. */
  readonly durationS: number;
}

/** Share of a minute that usable windows must cover. */
const MINUTE_COVER_SHARE = 2 / 3;

/**
 * Settled step rate from the windows of one run, or what is missing. Used: running windows with a step rate, after the
 * first 3 minutes of running, uncued or unmarked, level within 2 % and within 10 % of the run's median speed (where
 * slope and speed are known), in one-minute bins at least two thirds covered. The error is the larger of the
 * published wandering over that many steps and the scatter of the bins, sd · n^(H − 1).
 */
export function steadyRate(windows: readonly RateWindow[]): SteadyRate | NotEnough {
  const need = `at least ${steadyMinuteCount.value} steady minutes of level running after the first ${settlingTimeS.value / SECONDS_PER_MINUTE}`;
  const running = windows.filter((w) => w.state === "running" && w.stepRateSpm !== null && w.cue !== "on");
  const startS = running.reduce((least, w) => Math.min(least, w.startS), Infinity) + settlingTimeS.value;
  const settled = running.filter((w) => w.startS >= startS);
  const speeds = settled.flatMap((w) => (w.speedMps === null ? [] : [w.speedMps]));
  const usualSpeed = speeds.length > 0 ? median(speeds) : null;
  const steady = settled.filter(
    (w) =>
      (w.slope === null || Math.abs(w.slope) <= levelSlope.value) &&
      (w.speedMps === null ||
        usualSpeed === null ||
        Math.abs(w.speedMps - usualSpeed) <= steadySpeedShare.value * usualSpeed),
  );
  const minutes = minuteBins(steady, startS);
  if (minutes.length < steadyMinuteCount.value)
    return { kind: "not-enough", need, have: `${minutes.length} such minute${minutes.length === 1 ? "" : "s"}` };

  const rates = minutes.map((minute) => minute.stepRateSpm);
  const estimate = median(rates);
  const durationS = minutes.reduce((sum, minute) => sum + minute.coveredS, 0);
  const scatter = standardDeviation(rates) * rates.length ** (longMemoryExponent.value - 1);
  const standardError = Math.max(ownVariationSpm(estimate, durationS), scatter);
  const minuteSpeeds = minutes.flatMap((minute) => (minute.speedMps === null ? [] : [minute.speedMps]));
  return {
    kind: "steady",
    rate: {
      estimate,
      standardError,
      interval95: { low: estimate - 1.96 * standardError, high: estimate + 1.96 * standardError },
      sampleCount: minutes.length,
      method: "median of steady one-minute means",
    },
    speedMps: minuteSpeeds.length > 0 ? median(minuteSpeeds) : null,
    steadyMinuteCount: minutes.length,
    durationS,
  };
}

interface Minute {
  readonly stepRateSpm: number;
  readonly speedMps: number | null;
  readonly coveredS: number;
}

function minuteBins(windows: readonly RateWindow[], startS: number): Minute[] {
  const bins = new Map<number, RateWindow[]>();
  for (const window of windows) {
    const middleS = (window.startS + window.endS) / 2;
    const bin = Math.floor((middleS - startS) / SECONDS_PER_MINUTE);
    bins.set(bin, [...(bins.get(bin) ?? []), window]);
  }
  const minutes: Minute[] = [];
  for (const [, inside] of [...bins].sort(([a], [b]) => a - b)) {
    const coveredS = Math.min(SECONDS_PER_MINUTE, coveredSeconds(inside));
    if (coveredS < MINUTE_COVER_SHARE * SECONDS_PER_MINUTE) continue;
    const speeds = inside.flatMap((w) => (w.speedMps === null ? [] : [w.speedMps]));
    minutes.push({
      stepRateSpm: mean(inside.map((w) => w.stepRateSpm!)),
      speedMps: speeds.length > 0 ? mean(speeds) : null,
      coveredS,
    });
  }
  return minutes;
}

/** Length of the union of windows, which may overlap. */
function coveredSeconds(windows: readonly RateWindow[]): number {
  let covered = 0;
  let reachedS = -Infinity;
  for (const window of [...windows].sort((a, b) => a.startS - b.startS)) {
    covered += Math.max(0, window.endS - Math.max(window.startS, reachedS));
    reachedS = Math.max(reachedS, window.endS);
  }
  return covered;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function standardDeviation(values: readonly number[]): number {
  const centre = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
}
