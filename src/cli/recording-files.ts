// Recordings named on the command line, read and analysed, or exit 3.
import { analyseFile } from "../engine/analysis/analyse-file.ts";
import type { AnalyseOptions } from "../engine/analysis/analyse-recording.ts";
import type { Analysis } from "../engine/analysis/analysis.ts";
import { type Options, type OptionSpec, type Outside } from "./command.ts";
import { expectOk } from "./input.ts";

export const recordingOptions = {
  surface: { value: "outdoor|treadmill", help: "where it was run, when the recording does not say" },
  "belt-speed": { value: "MPS", help: "a known speed that held throughout, in metres per second" },
} as const satisfies Record<string, OptionSpec>;

type KnownOfRecording = Omit<AnalyseOptions, "readWarnings">;

export function recordingOptionsOf(options: Options): KnownOfRecording {
  const surface = options.choice("surface", ["outdoor", "treadmill"]);
  const knownSpeedMps = options.numberIn("belt-speed", 0.5, 8, "metres per second");
  return { ...(surface === undefined ? {} : { surface }), ...(knownSpeedMps === undefined ? {} : { knownSpeedMps }) };
}

/** Throws InputError with the file's name in every problem. */
export async function readAnalysis(file: string, outside: Outside, known: KnownOfRecording): Promise<Analysis> {
  const bytes = await outside.readFile(file);
  return expectOk(analyseFile(bytes, { fileName: file }, known), file);
}
