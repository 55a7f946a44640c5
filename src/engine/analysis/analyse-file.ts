// From the bytes of a file to its analysis, in one call.
import type { Result } from "../quantities/problem.ts";
import type { ReadOptions } from "../recordings/limits.ts";
import { readRecording } from "../recordings/read-recording.ts";
import type { Analysis } from "./analysis.ts";
import { analyseRecording, type AnalyseOptions } from "./analyse-recording.ts";

/** Reads and analyses a file; the reader's warnings come first. */
export function analyseFile(
  bytes: Uint8Array,
  read: ReadOptions,
  options: Omit<AnalyseOptions, "readWarnings"> = {},
): Result<Analysis> {
  const recording = readRecording(bytes, read);
  if (!recording.ok) return recording;
  return analyseRecording(recording.value, { ...options, readWarnings: recording.warnings });
}
