// Before against after, at the same speed: from runs to a comparison.
import { DAY_TO_DAY_SD, SMALLEST_WORTHWHILE_CHANGE_SPM, SPEED_EXPONENT, UPHILL_EFFECT } from "../evidence/change.ts";
import { fail, succeed, type Result, type Warning } from "../quantities/problem.ts";
import type { Uncertain } from "../quantities/uncertain.ts";
import type { Comparison } from "./comparison.ts";
import { checkCurvature } from "./curvature.ts";
import { fieldLine } from "./field-line.ts";
import { findingOf, sentenceOf } from "./finding.ts";
import type { RunnerPrior } from "./group-prior.ts";
import { lateRunDropOfMinutes, meanLateRunDrop } from "./late-run-drop.ts";
import { fitMatchedSpeed, type ModelRun } from "./matched-speed-model.ts";
import { mixtureMean, mixtureQuantile, mixtureSd, type NormalMixture } from "./normal-mixture.ts";
import { overlapOf, type OverlapOptions } from "./overlap.ts";
import { prepareSides, type PreparedRun } from "./prepare-runs.ts";
import type { Run } from "./run.ts";
import { runsStillNeeded } from "./runs-needed.ts";
import { sequentialVerdict } from "./sequential-decision.ts";
import { shrinkageOf } from "./shrinkage.ts";
import { combineNormal, withinRunSlope } from "./speed-exponent.ts";
import { speedSplit } from "./speed-split.ts";

export interface CompareOptions extends OverlapOptions {
  /** Borrow from the runner's group instead of from published values. */
  readonly groupPrior?: RunnerPrior;
  /** Use only minutes with the beat on, or not on. Default: all. */
  readonly cue?: "on" | "off";
}

/**
 * Compares the runs before with the runs after at the same speed.
 * Problems: no run or no steady minute with step rate and speed on a side, treadmill mixed with outdoor runs.
 * A single run on a side gives an answer whose finding is always `not-enough-evidence`.
 * Deterministic. See docs/method/matched-speed.md; calibration in docs/accuracy.md.
 */
export function compareRuns(
  before: readonly Run[],
  after: readonly Run[],
  options: CompareOptions = {},
): Result<Comparison> {
  const prepared = prepareSides(before, after, options.cue === undefined ? {} : { cue: options.cue });
  if (!prepared.ok) return fail(...prepared.problems);
  const { before: left, after: right } = prepared.value;
  const warnings: Warning[] = [...prepared.warnings];
  const { overlap, referenceSpeedMps, warnings: overlapWarnings } = overlapOf(left, right, options);
  warnings.push(...overlapWarnings);

  const publishedOrGroup = options.groupPrior ?? { exponent: SPEED_EXPONENT.value, dayToDay: DAY_TO_DAY_SD.value };
  const own = withinRunSlope([...left, ...right].map((run) => toSeries(run)));
  const exponent = own === undefined ? publishedOrGroup.exponent : combineNormal(publishedOrGroup.exponent, own);
  const runs: ModelRun[] = [
    ...left.map((run) => ({ phase: 0 as const, ...toSeries(run, 0) })),
    ...right.map((run) => ({ phase: 1 as const, ...toSeries(run, 0) })),
  ];
  const fit = fitMatchedSpeed(runs, Math.log(referenceSpeedMps), {
    exponent,
    uphill: UPHILL_EFFECT.value,
    dayToDay: publishedOrGroup.dayToDay,
  });
  warnings.push(...checkCurvature(runs, fit.rho, [...left, ...right]));

  const runCount = { before: left.length, after: right.length };
  const sampleCount = left.length + right.length;
  const baselineSpm = Math.exp(mixtureMean(fit.baseline));
  const matchedSpeedChangeSpm = asUncertain(fit.change, baselineSpm, sampleCount);
  const split = speedSplit(left.map(meansOf), right.map(meansOf));
  const speedChangePercent = 100 * Math.expm1(split.lnSpeed);
  const meanRate = (side: readonly PreparedRun[]): number =>
    Math.exp(side.reduce((sum, run) => sum + meansOf(run).lnStepRate, 0) / side.length);
  const findingInput = {
    changeSpm: matchedSpeedChangeSpm,
    speedChangePercent,
    beforeRunCount: left.length,
    afterRunCount: right.length,
  };
  const finding = findingOf(findingInput);
  // The typical spread, not the mean square: with few runs the latter is ruled by the far tail of the prior.
  const typicalLnTau = fit.dayToDaySd.values.reduce(
    (sum, tau, k) => sum + fit.dayToDaySd.weights[k]! * Math.log(tau),
    0,
  );
  const needed = runsStillNeeded({
    beforeRunCount: left.length,
    afterRunCount: right.length,
    runVariance: Math.exp(2 * typicalLnTau) + fit.withinRunVariance,
    leaningVariance: (mixtureSd(fit.exponent) * split.lnSpeed) ** 2,
    halfWidth: SMALLEST_WORTHWHILE_CHANGE_SPM.value / baselineSpm,
  });
  const usedExponent = mixtureMean(fit.exponent);
  const drops = (side: readonly PreparedRun[]): Comparison["lateRunDropSpm"]["before"] =>
    meanLateRunDrop(
      side.map((run, index) => lateRunDropOfMinutes(run.minutes, { exponent: usedExponent, seed: index + 1 })),
    );
  const line = (side: readonly PreparedRun[], lnRate: number): Comparison["beforeLine"] =>
    fieldLine(side, { lnRate, referenceSpeedMps, exponent: usedExponent, overlap });
  return succeed<Comparison>({
    referenceSpeedMps,
    beforeSpm: baselineSpm,
    afterSpm: baselineSpm + matchedSpeedChangeSpm.estimate,
    matchedSpeedChangeSpm,
    matchedSpeedChangePercent: asUncertain(fit.change, 100, sampleCount),
    rawChangeSpm: meanRate(right) - meanRate(left),
    speedChangePercent,
    split,
    finding,
    runsStillNeeded: needed,
    everyLook: sequentialVerdict(fit.change),
    lateRunDropSpm: { before: drops(left), after: drops(right) },
    shrinkage: shrinkageOf(fit, publishedOrGroup, options.groupPrior === undefined ? "published" : "group"),
    overlap,
    beforeLine: line(left, mixtureMean(fit.baseline)),
    afterLine: line(right, mixtureMean(fit.baseline) + mixtureMean(fit.change)),
    runCount,
    sentence: sentenceOf({
      ...findingInput,
      finding,
      runsStillNeeded: "kind" in needed ? null : needed.total,
      leansOnSlope: overlap.leansOnSlope,
    }),
    warnings,
  });
}

/** A run as plain series; `uphill` is the slope correction already taken off the response (0 leaves it to the model). */
function toSeries(run: PreparedRun, uphill: number = UPHILL_EFFECT.value.mean): Omit<ModelRun, "phase"> {
  return {
    timeS: run.minutes.map((minute) => minute.timeS),
    lnSpeed: run.minutes.map((minute) => minute.lnSpeed),
    slope: run.minutes.map((minute) => minute.slope),
    response: run.minutes.map((minute) => minute.lnStepRate - uphill * Math.max(0, minute.slope)),
  };
}

function meansOf(run: PreparedRun): { lnSpeed: number; lnStepRate: number } {
  const n = run.minutes.length;
  return {
    lnSpeed: run.minutes.reduce((sum, minute) => sum + minute.lnSpeed, 0) / n,
    lnStepRate: run.minutes.reduce((sum, minute) => sum + minute.lnStepRate, 0) / n,
  };
}

/** A log change told in units: scale·(e^delta − 1), the quantiles carried over. */
function asUncertain(change: NormalMixture, scale: number, sampleCount: number): Uncertain {
  const told = (delta: number): number => scale * Math.expm1(delta);
  return {
    estimate: told(mixtureMean(change)),
    standardError: scale * Math.exp(mixtureMean(change)) * mixtureSd(change),
    interval95: { low: told(mixtureQuantile(change, 0.025)), high: told(mixtureQuantile(change, 0.975)) },
    sampleCount,
    method: "matched-speed mixed model over runs, day-to-day spread averaged over",
  };
}
