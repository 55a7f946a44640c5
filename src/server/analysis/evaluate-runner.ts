// Everything that is computed of one runner, from plain data to plain data: runs on the analysis thread.
import type { ComparisonAnswer } from "../../api/index.ts";
import { compareRuns } from "../../engine/change/compare-runs.ts";
import type { Comparison, FieldLine } from "../../engine/change/comparison.ts";
import type { GroupPrior } from "../../engine/change/group-prior.ts";
import type { SpeedSplit } from "../../engine/change/speed-split.ts";
import type { NotEnough } from "../../engine/quantities/uncertain.ts";
import { asRun } from "./as-run.ts";
import { changeDetails, type ComparedRuns } from "./change-details.ts";
import { evaluateBaseline } from "./evaluate-baseline.ts";
import { carryOverOf } from "./carry-over.ts";
import { evaluateRuns } from "./evaluate-runs.ts";
import type { EvaluationInput, RecordingInput, RunnerState } from "./runner-state.ts";

/** While nothing was recorded after the programme, its latest runs stand in for "after". */
const LATEST_RUNS = 4;

export function evaluateRunner(input: EvaluationInput): RunnerState {
  const baseline = evaluateBaseline(input);
  const { answer, comparison } = compare(input, baseline.kind === "baseline" ? baseline.stepRateSpm.estimate : null);
  const referenceSpeedMps = comparison?.referenceSpeedMps ?? (baseline.kind === "baseline" ? baseline.speedMps : null);
  const speedExponent = comparison?.shrinkage.speedExponent.estimate ?? null;
  const runs = evaluateRuns(input, { speedMps: referenceSpeedMps, exponent: speedExponent });
  return {
    baseline,
    comparison:
      answer.kind === "comparison" && baseline.kind === "baseline"
        ? { ...answer, carryOver: carryOverOf(runs, baseline.stepRateSpm.estimate) }
        : answer,
    referenceSpeedMps,
    speedExponent,
    runs,
  };
}

function compare(
  input: EvaluationInput,
  baselineSpm: number | null,
): { readonly answer: ComparisonAnswer; readonly comparison: Comparison | null } {
  const of = (phase: RecordingInput["phase"]): RecordingInput[] =>
    input.recordings.filter((entry) => entry.phase === phase);
  const before = of("before");
  const finished = of("after");
  const after = finished.length > 0 ? finished : of("during").slice(-LATEST_RUNS);
  const runs = { before: before.map(asRun), during: of("during").map(asRun), after: after.map(asRun) };
  const result = compareRuns(runs.before, runs.after, {
    ...(input.atSpeedMps === undefined ? {} : { atSpeedMps: input.atSpeedMps }),
    ...(input.groupPrior === undefined ? {} : { groupPrior: input.groupPrior }),
  });
  if (!result.ok) {
    const nothing = { line: [], runs: [], minutes: [], runCount: 0 };
    const [problem] = result.problems;
    const answer: ComparisonAnswer = {
      kind: "not-enough",
      need: problem?.remedy ?? "runs before and after",
      have: `${before.length} before, ${after.length} after${problem === undefined ? "" : `: ${problem.got}`}`,
      before: { ...nothing, runCount: before.length },
      after: { ...nothing, runCount: after.length },
    };
    return { answer, comparison: null };
  }
  return { answer: present(result.value, input, baselineSpm, runs), comparison: result.value };
}

function present(
  comparison: Comparison,
  input: EvaluationInput,
  baselineSpm: number | null,
  runs: ComparedRuns,
): ComparisonAnswer {
  const startedAt = new Map(input.recordings.map((entry) => [entry.id, entry.startedAt]));
  const side = (line: FieldLine, runCount: number) => ({
    line: line.line.map((point) => ({ ...point })),
    runs: line.runs.map(({ runId, speedMps, stepRateSpm }) => ({
      recordingId: runId,
      speedMps,
      stepRateSpm,
      startedAt: startedAt.get(runId) ?? null,
    })),
    minutes: line.minutes.map((point) => ({ ...point })),
    runCount,
  });
  const change = comparison.matchedSpeedChangeSpm;
  const intended = input.acceptedTargetSpm === null || baselineSpm === null ? 0 : input.acceptedTargetSpm - baselineSpm;
  const needed = comparison.runsStillNeeded;
  const { before, after } = comparison.lateRunDropSpm;
  return {
    kind: "comparison",
    finding: comparison.finding,
    sentence: comparison.sentence,
    referenceSpeedMps: comparison.referenceSpeedMps,
    matchedSpeedChangeSpm: { estimate: change.estimate, low95: change.interval95.low, high95: change.interval95.high },
    matchedSpeedChangeShare: comparison.matchedSpeedChangePercent.estimate / 100,
    rawChangeSpm: comparison.rawChangeSpm,
    speedChangePercent: comparison.speedChangePercent,
    targetShare: intended > 0 ? change.estimate / intended : null,
    split: presentSplit(comparison.split),
    runsStillNeeded: "kind" in needed ? null : needed.total,
    lateRunDropSpm: { before: orNull(before), after: orNull(after) },
    carryOver: null,
    before: side(comparison.beforeLine, comparison.runCount.before),
    after: side(comparison.afterLine, comparison.runCount.after),
    details: changeDetails(comparison, runs),
    borrowed: borrowed(comparison, input.groupPrior),
    warnings: [...comparison.warnings],
  };
}

export function presentSplit(split: SpeedSplit) {
  const { lnSpeed, lnStepRate, lnStepLength, stepRateShare, stepLengthShare } = split;
  return {
    lnSpeed,
    lnStepRate,
    lnStepLength,
    stepRateShare: orNull(stepRateShare),
    stepLengthShare: orNull(stepLengthShare),
  };
}

/** What the answer leaned on, in words; nothing is said below a tenth. */
function borrowed({ shrinkage }: Comparison, group: GroupPrior | undefined): string[] {
  const from = (publishedShare: number | undefined): string => {
    if (group === undefined || publishedShare === undefined) return "published studies";
    const rest = publishedShare < 0.05 ? "" : `, itself ${Math.round(100 * publishedShare)} % published studies`;
    return `${group.runnerCount} other runners of the group${rest}`;
  };
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  const lines: string[] = [];
  if (shrinkage.speedExponent.priorShare >= 0.1)
    lines.push(
      `How step rate grows with speed: ${percent(shrinkage.speedExponent.priorShare)} from ${from(group?.publishedShare.exponent)}.`,
    );
  if (shrinkage.dayToDaySdPercent.priorShare >= 0.1)
    lines.push(
      `How much one day differs from the next: ${percent(shrinkage.dayToDaySdPercent.priorShare)} from ${from(group?.publishedShare.dayToDay)}.`,
    );
  return lines;
}

function orNull<T extends object | number>(value: T | NotEnough): T | null {
  return typeof value === "object" && "kind" in value && value.kind === "not-enough" ? null : (value as T);
}
