// What a runner's state is computed from, and a key of it: the same key again means the same state.
import type { Plan } from "../../engine/plan/plan.ts";
import { createHash } from "node:crypto";
import {
  type AnalysedRow,
  GroupReader,
  type Reading,
  RecordingReader,
  RunnerReader,
  type WindowsRow,
} from "../../store/index.ts";
import type { EvaluationInput, RecordingInput } from "../analysis/runner-state.ts";
import { notFound } from "../app/refusal.ts";
import { groupPriorFor } from "./group-prior.ts";
import { json } from "./present.ts";
import { adviceSettings, readSettings } from "./settings.ts";

/** Everything but the recordings. */
export interface Surroundings {
  readonly rest: Omit<EvaluationInput, "recordings">;
  readonly plan: Plan | null;
}

export async function readSurroundings(db: Reading, runnerId: string): Promise<Surroundings> {
  const reader = new RunnerReader(db);
  const runner = await reader.one(runnerId);
  if (runner === undefined) throw notFound("runner");
  const group = await new GroupReader(db).row(runner.groupId);
  const counts = await reader.counts(runnerId);
  const accepted = await reader.accepted(runnerId);
  const planRow = await reader.plan(runnerId);
  const plan = planRow === undefined ? null : json<Plan>(planRow.planJson);
  const groupPrior = await groupPriorFor(db, runner.groupId, runnerId);
  return {
    plan,
    rest: {
      // Checks on the way say nothing of the baseline: they leave what was computed as it is.
      counts: counts.filter((row) => row.purpose === "baseline"),
      acceptedTargetSpm: accepted?.targetSpm ?? null,
      stageTargets: (plan?.stages ?? []).map((stage) => ({ from: stage.startsOn, targetSpm: stage.stepRateSpm })),
      settings: adviceSettings(readSettings(group?.settingsJson ?? "{}")),
      ...(groupPrior === undefined ? {} : { groupPrior }),
    },
  };
}

export async function evaluationInput(db: Reading, runnerId: string): Promise<EvaluationInput> {
  const { rest } = await readSurroundings(db, runnerId);
  return { ...rest, recordings: (await new RecordingReader(db).analysed(runnerId)).map(recordingInput) };
}

export function recordingInput(row: WindowsRow): RecordingInput {
  return { ...headOf(row), windows: json(row.windowsJson) };
}

function headOf(row: AnalysedRow): Omit<RecordingInput, "windows"> {
  return {
    id: row.id,
    startedAt: row.startedAt,
    phase: row.phase,
    surface: row.surface,
    effortRating: row.effortRating,
    trimStartS: row.trimStartS,
    trimEndS: row.trimEndS,
    cueBlocks: row.cueBlocksJson === null ? [] : json(row.cueBlocksJson),
    distanceM: row.summaryJson === null ? null : json<{ distanceM: number | null }>(row.summaryJson).distanceM,
  };
}

/**
 * Hash of what a state is computed from. What was measured in a recording is not read for it: the engine's version and
 * the moment of the analysis stand for that.
 */
export function contentKeyOf(
  engineVersion: string,
  surroundings: Surroundings,
  recordings: readonly AnalysedRow[],
): string {
  const read = recordings.map((row) => [headOf(row), row.contentSha256, row.engineVersion, row.computedAt]);
  return createHash("sha256")
    .update(JSON.stringify([engineVersion, surroundings.rest, read]))
    .digest("base64url");
}
