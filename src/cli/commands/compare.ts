// spondee compare: did the step rate rise at the same speed?
import { compareRuns } from "../../engine/change/compare-runs.ts";
import type { Comparison } from "../../engine/change/comparison.ts";
import { heartRateCost } from "../../engine/change/cost.ts";
import type { Run } from "../../engine/change/run.ts";
import type { Problem } from "../../engine/quantities/problem.ts";
import type { NotEnough, Uncertain } from "../../engine/quantities/uncertain.ts";
import { type Command, type Invocation, InputError, UsageError } from "../command.ts";
import { readAnalysis, recordingOptions, recordingOptionsOf } from "../recording-files.ts";
import { rounded, signed, warningLines } from "../text.ts";

export const compareCommand: Command = {
  name: "compare",
  summary: "did the step rate rise at the same speed, or did the runner only run faster?",
  usage: "--before FILE… --after FILE… [--at-speed MPS]",
  options: {
    before: { value: "FILE", takesSeveral: true, help: "runs before the change" },
    after: { value: "FILE", takesSeveral: true, help: "runs after it" },
    "at-speed": { value: "MPS", help: "compare at this speed (default: one that both sides ran)" },
    ...recordingOptions,
  },
  notes: "One run on either side is never proof: the same runner differs by one to two percent from day to day.",
  async run(invocation) {
    const { options } = invocation;
    const [beforeFiles, afterFiles] = [options.texts("before"), options.texts("after")];
    if (beforeFiles.length === 0 || afterFiles.length === 0)
      throw new UsageError("name files after --before and after --after");
    if (invocation.positionals.length > 0) throw new UsageError(`which side is ${invocation.positionals[0]} on?`);
    const atSpeedMps = options.numberIn("at-speed", 1, 8, "metres per second");
    const before = await readRuns(beforeFiles, invocation);
    const after = await readRuns(afterFiles, invocation);
    const result = compareRuns(before, after, atSpeedMps === undefined ? {} : { atSpeedMps });
    if (!result.ok) {
      const filesOf: Readonly<Record<string, readonly string[]>> = { before: beforeFiles, after: afterFiles };
      throw new InputError(result.problems.map((problem) => withFiles(problem, filesOf[problem.where.field ?? ""])));
    }
    const heartRate = heartRateCost(before, after).overall;
    return { json: comparisonJson(result.value, heartRate), text: comparisonText(result.value, heartRate) };
  },
};

/** A side is named by its files. */
function withFiles(problem: Problem, files: readonly string[] | undefined): Problem {
  return files === undefined ? problem : { ...problem, where: { ...problem.where, file: files.join(" and ") } };
}

async function readRuns(files: readonly string[], { options, outside }: Invocation): Promise<Run[]> {
  const known = recordingOptionsOf(options);
  const runs: Run[] = [];
  for (const file of files) {
    const { startedAt, surface, windows } = await readAnalysis(file, outside, known);
    runs.push({ id: file, surface, windows, ...(startedAt === null ? {} : { startedAtMs: Date.parse(startedAt) }) });
  }
  return runs;
}

const flat = ({ estimate, interval95 }: Uncertain) => ({ estimate, low95: interval95.low, high95: interval95.high });
const flatOrNull = (value: Uncertain | NotEnough) => ("kind" in value ? null : flat(value));
const shareOrNull = (value: number | NotEnough) => (typeof value === "number" ? value : null);
const estimateOrNull = (value: Uncertain | NotEnough) => ("kind" in value ? null : value.estimate);

function comparisonJson(comparison: Comparison, heartRate: Uncertain | NotEnough) {
  const { runsStillNeeded, lateRunDropSpm, split } = comparison;
  return {
    referenceSpeedMps: comparison.referenceSpeedMps,
    matchedSpeedChangeSpm: flat(comparison.matchedSpeedChangeSpm),
    matchedSpeedChangePercent: flat(comparison.matchedSpeedChangePercent),
    rawChangeSpm: comparison.rawChangeSpm,
    speedChangePercent: comparison.speedChangePercent,
    split: {
      stepRateShare: shareOrNull(split.stepRateShare),
      stepLengthShare: shareOrNull(split.stepLengthShare),
      lnSpeed: split.lnSpeed,
      lnStepRate: split.lnStepRate,
      lnStepLength: split.lnStepLength,
    },
    finding: comparison.finding,
    sentence: comparison.sentence,
    runsStillNeeded: "kind" in runsStillNeeded ? null : runsStillNeeded.total,
    lateRunDropSpm: { before: estimateOrNull(lateRunDropSpm.before), after: estimateOrNull(lateRunDropSpm.after) },
    lateRunDropIntervalSpm: { before: flatOrNull(lateRunDropSpm.before), after: flatOrNull(lateRunDropSpm.after) },
    heartRateChangeBpm: flatOrNull(heartRate),
    everyLook: comparison.everyLook,
    runCount: comparison.runCount,
    borrowed: comparison.shrinkage,
    overlap: comparison.overlap,
    warnings: comparison.warnings,
  };
}

function comparisonText(comparison: Comparison, heartRate: Uncertain | NotEnough): string {
  const { matchedSpeedChangeSpm: change, split } = comparison;
  const points = (ln: number) => `${signed(100 * Math.expm1(ln), 1)} %`;
  return [
    comparison.sentence,
    "",
    `  at ${rounded(comparison.referenceSpeedMps, 2)} m/s: ${signed(change.estimate, 1)} spm (95 %: ${signed(change.interval95.low, 1)} to ${signed(change.interval95.high, 1)}), finding: ${comparison.finding}`,
    `  without regard to speed: ${signed(comparison.rawChangeSpm, 1)} spm; speed ${points(split.lnSpeed)} = step rate ${points(split.lnStepRate)} × step length ${points(split.lnStepLength)}`,
    `  ${lookText(comparison)} From day to day this runner differs by about ${rounded(comparison.shrinkage.dayToDaySdPercent.estimate, 1)} %.`,
    ...("kind" in heartRate
      ? []
      : [
          `  heart rate at the same speed: ${signed(heartRate.estimate, 1)} beats a minute (95 %: ${signed(heartRate.interval95.low, 1)} to ${signed(heartRate.interval95.high, 1)})`,
        ]),
    ...warningLines(comparison.warnings).map((line) => `  ${line}`),
  ].join("\n");
}

/** The interval above is for one look; this holds for looking after every run. */
function lookText({ everyLook, runCount }: Comparison): string {
  if (Math.min(runCount.before, runCount.after) < 2) return "A single run says nothing of looking again.";
  const { verdict, wantedChangePercent } = everyLook;
  if (verdict === "changed") return "The change holds however often one looks.";
  if (verdict === "no-change")
    return `A change of ${rounded(wantedChangePercent, 0)} % is not there, however often one looks.`;
  return "Looked at after every run, this may still be chance.";
}
