// What passes between the server and its analysis thread.
import type { Result } from "../../engine/quantities/problem.ts";
import type { AnalysedFile, FileLabels } from "./analyse-file.ts";
import type { ProgrammeInput, ProgrammeOutcome } from "./evaluate-programme.ts";
import type { EvaluationInput, RunnerState } from "./runner-state.ts";

export type ThreadRequest =
  | { readonly id: number; readonly kind: "read"; readonly bytes: Uint8Array; readonly labels: FileLabels }
  | { readonly id: number; readonly kind: "evaluate"; readonly input: EvaluationInput }
  | { readonly id: number; readonly kind: "programme"; readonly runners: readonly ProgrammeInput[] };

export type ThreadAnswer =
  | { readonly id: number; readonly kind: "read"; readonly result: Result<AnalysedFile> }
  | { readonly id: number; readonly kind: "evaluate"; readonly state: RunnerState }
  | { readonly id: number; readonly kind: "programme"; readonly outcome: ProgrammeOutcome }
  | { readonly id: number; readonly kind: "failed"; readonly message: string };
