// spondee read: what recordings hold.
import type { Analysis, Summary } from "../../engine/analysis/analysis.ts";
import { formatMinutesSeconds, paceSPerKm } from "../../engine/quantities/units.ts";
import { describeProblems, type Problem } from "../../engine/quantities/problem.ts";
import { type Command, InputError, UsageError } from "../command.ts";
import { readAnalysis, recordingOptions, recordingOptionsOf } from "../recording-files.ts";
import { rounded, warningLines } from "../text.ts";

export const readCommand: Command = {
  name: "read",
  summary: "what recordings hold: GPX, CSV tracks, motion and sound",
  usage: "FILE… [--steps]",
  options: {
    steps: { help: "add the time of every step, where the recording has it" },
    ...recordingOptions,
  },
  async run({ positionals, options, outside }) {
    if (positionals.length === 0) throw new UsageError("name at least one file");
    const analyseOptions = recordingOptionsOf(options);
    const files: ReturnType<typeof fileJson>[] = [];
    const texts: string[] = [];
    const problems: Problem[] = [];
    for (const file of positionals) {
      try {
        const analysis = await readAnalysis(file, outside, analyseOptions);
        files.push(fileJson(file, analysis, options.flag("steps")));
        texts.push(fileText(file, analysis));
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        problems.push(...error.problems);
      }
    }
    if (files.length === 0) throw new InputError(problems);
    // The others are still told; the exit code says that one was not read.
    for (const line of describeProblems(problems)) outside.say(`spondee read: ${line}`);
    return { json: { files }, text: texts.join("\n\n"), exitCode: problems.length > 0 ? 3 : 0 };
  },
};

function fileJson(file: string, analysis: Analysis, steps: boolean) {
  return {
    file,
    kind: analysis.kind,
    startedAt: analysis.startedAt,
    surface: analysis.surface,
    durationS: analysis.durationS,
    movingS: analysis.movingS,
    distanceM: analysis.distanceM,
    stepRateSpm: analysis.stepRateSpm,
    speedMps: analysis.speedMps,
    stepLengthM: analysis.stepLengthM,
    feetCounted: analysis.feetCounted,
    windows: analysis.windows,
    warnings: analysis.warnings,
    ...(steps ? { stepTimesS: analysis.stepTimesS } : {}),
  };
}

const kindWords = { gpx: "GPX track", "csv-track": "CSV track", motion: "motion", sound: "sound" } as const;

function fileText(file: string, analysis: Analysis): string {
  const summary = (name: string, value: Summary | null, digits: number, unit: string) =>
    value === null
      ? []
      : [
          `  ${name}: ${rounded(value.mean, digits)} ± ${rounded(value.standardError, digits)} ${unit} (${rounded(value.p05, digits)} to ${rounded(value.p95, digits)})`,
        ];
  const pace = analysis.speedMps === null ? "" : `, ${formatMinutesSeconds(paceSPerKm(analysis.speedMps.mean))} per km`;
  return [
    `${file}: ${kindWords[analysis.kind]}${analysis.startedAt === null ? "" : `, ${analysis.startedAt}`}`,
    `  ${formatMinutesSeconds(analysis.durationS)} long, ${formatMinutesSeconds(analysis.movingS)} moving${analysis.distanceM === null ? "" : `, ${rounded(analysis.distanceM / 1000, 2)} km`}${pace}`,
    ...summary("step rate", analysis.stepRateSpm, 1, "spm, both feet"),
    ...summary("speed", analysis.speedMps, 2, "m/s"),
    ...summary("step length", analysis.stepLengthM, 2, "m"),
    ...warningLines(analysis.warnings).map((line) => `  ${line}`),
  ].join("\n");
}
