// Where the heavy computing happens: on a thread of its own in a running server, in place in tests.
import type { Problem, Result } from "../../engine/quantities/problem.ts";
import { type AnalysedFile, analyseFile, type FileLabels } from "./analyse-file.ts";
import { evaluateProgramme, type ProgrammeInput, type ProgrammeOutcome } from "./evaluate-programme.ts";
import { evaluateRunner } from "./evaluate-runner.ts";
import type { EvaluationInput, RunnerState } from "./runner-state.ts";

export interface Analyst {
  /** Version of the engine; what another version made is made again. */
  readonly engineVersion: string;
  readFile(bytes: Uint8Array, labels: FileLabels): Promise<Result<AnalysedFile>>;
  evaluate(input: EvaluationInput): Promise<RunnerState>;
  programme(runners: readonly ProgrammeInput[]): Promise<ProgrammeOutcome>;
  close(): Promise<void>;
}

/** Computes on the calling thread. */
export function createLocalAnalyst(engineVersion: string): Analyst {
  return {
    engineVersion,
    readFile: (bytes, labels) => Promise.resolve(analyseFile(bytes, labels)),
    evaluate: (input) => Promise.resolve(evaluateRunner(input)),
    programme: (runners) => Promise.resolve(evaluateProgramme(runners)),
    close: () => Promise.resolve(),
  };
}

export function tooSlow(fileName: string): Problem {
  return {
    code: "analysis-too-slow",
    where: { file: fileName },
    got: "a file that takes too long to read",
    expected: "a recording of a single run",
    remedy: "Export one run by itself, or trim the file.",
  };
}
