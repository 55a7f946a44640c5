// The computed state of a runner, made anew when anything about them was written or the engine changed.
import type { Plan } from "../../engine/plan/plan.ts";
import { outlineOf } from "../../engine/plan/plan-outline.ts";
import { GroupReader, type Reading, RecordingReader, RunnerReader, type WindowsRow } from "../../store/index.ts";
import { type EvaluationInput, type RecordingInput, type RunnerState, weekStateOf } from "../analysis/runner-state.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { json } from "./present.ts";
import { adviceSettings, readSettings } from "./settings.ts";

/** Fresh state, from the store when it is fresh there. */
export async function runnerState(deps: Deps, runnerId: string): Promise<RunnerState> {
  const { db } = deps.store;
  const kept = await new RunnerReader(db).state(runnerId);
  const version = kept?.dataVersion ?? 0;
  if (
    kept !== undefined &&
    kept.stateJson !== null &&
    typeof kept.weekJson === "string" &&
    kept.computedFor === version &&
    kept.engineVersion === deps.analyst.engineVersion
  )
    return json(kept.stateJson);
  const { input, plan } = await readEvaluation(db, runnerId);
  const state = await deps.analyst.evaluate(input);
  await deps.store.write(async (trx) => {
    // Kept only for the version it was made from: a write in between makes it stale again.
    await trx
      .updateTable("runnerState")
      .set({
        computedFor: version,
        engineVersion: deps.analyst.engineVersion,
        baselineSpm: state.baseline.kind === "baseline" ? state.baseline.stepRateSpm.estimate : null,
        finding: state.comparison.kind === "comparison" ? state.comparison.finding : null,
        stateJson: JSON.stringify(state),
        weekJson: JSON.stringify(weekStateOf(state, plan === null ? null : outlineOf(plan))),
        computedAt: instant(deps.clock),
      })
      .where("runnerId", "=", runnerId)
      .where("computedFor", "<=", version)
      .execute();
  });
  return state;
}

/** Runners of a group whose state is not fresh. */
async function staleRunners(deps: Deps, groupId: string): Promise<string[]> {
  const rows = await deps.store.db
    .selectFrom("runner")
    .leftJoin("runnerState", "runnerState.runnerId", "runner.id")
    .select("runner.id")
    .where("runner.groupId", "=", groupId)
    .where("runner.archived", "=", 0)
    .where((build) =>
      build.or([
        build("runnerState.weekJson", "is", null),
        build("runnerState.engineVersion", "!=", deps.analyst.engineVersion),
        build("runnerState.computedFor", "!=", build.ref("runnerState.dataVersion")),
      ]),
    )
    .execute();
  return rows.map((row) => row.id);
}

export async function freshenGroup(deps: Deps, groupId: string): Promise<void> {
  for (const runnerId of await staleRunners(deps, groupId)) await runnerState(deps, runnerId);
}

export async function evaluationInput(db: Reading, runnerId: string): Promise<EvaluationInput> {
  return (await readEvaluation(db, runnerId)).input;
}

async function readEvaluation(
  db: Reading,
  runnerId: string,
): Promise<{ readonly input: EvaluationInput; readonly plan: Plan | null }> {
  const reader = new RunnerReader(db);
  const runner = await reader.one(runnerId);
  if (runner === undefined) throw notFound("runner");
  const group = await new GroupReader(db).row(runner.groupId);
  const [counts, rows, accepted, planRow] = [
    await reader.counts(runnerId),
    await new RecordingReader(db).analysed(runnerId),
    await reader.accepted(runnerId),
    await reader.plan(runnerId),
  ];
  const plan = planRow === undefined ? null : json<Plan>(planRow.planJson);
  const input: EvaluationInput = {
    counts,
    recordings: rows.map(recordingInput),
    acceptedTargetSpm: accepted?.targetSpm ?? null,
    stageTargets: (plan?.stages ?? []).map((stage) => ({ from: stage.startsOn, targetSpm: stage.stepRateSpm })),
    settings: adviceSettings(readSettings(group?.settingsJson ?? "{}")),
  };
  return { input, plan };
}

function recordingInput(row: WindowsRow): RecordingInput {
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
    windows: json(row.windowsJson),
  };
}
