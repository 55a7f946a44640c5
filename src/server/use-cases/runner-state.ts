// The computed state of a runner, made anew when what it was computed from was written or the engine changed.
import { outlineOf } from "../../engine/plan/plan-outline.ts";
import { RecordingReader, RunnerReader, type Writing } from "../../store/index.ts";
import { type RunnerState, weekStateOf } from "../analysis/runner-state.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { contentKeyOf, readSurroundings, recordingInput } from "./evaluation-input.ts";
import { json } from "./present.ts";

/** States that are computed before they are kept together, in one commit. */
const TOGETHER = 20;

interface Computed {
  readonly state: RunnerState;
  /** Absent when what is kept is fresh. */
  readonly keep?: (trx: Writing) => Promise<void>;
}

/** Fresh state, from the store when it is fresh there. */
export async function runnerState(deps: Deps, runnerId: string): Promise<RunnerState> {
  const { state, keep } = await compute(deps, runnerId);
  if (keep !== undefined) await deps.store.write(keep);
  return state;
}

export async function freshenRunners(deps: Deps, runnerIds: readonly string[]): Promise<void> {
  for (let start = 0; start < runnerIds.length; start += TOGETHER) {
    const keeps: ((trx: Writing) => Promise<void>)[] = [];
    for (const runnerId of runnerIds.slice(start, start + TOGETHER)) {
      const { keep } = await compute(deps, runnerId);
      if (keep !== undefined) keeps.push(keep);
    }
    await deps.store.write(async (trx) => {
      for (const keep of keeps) await keep(trx);
    });
  }
}

export async function freshenGroup(deps: Deps, groupId: string): Promise<void> {
  await freshenRunners(deps, await staleRunners(deps, groupId));
}

async function compute(deps: Deps, runnerId: string): Promise<Computed> {
  const { db } = deps.store;
  const { engineVersion } = deps.analyst;
  const kept = await new RunnerReader(db).state(runnerId);
  const version = kept?.dataVersion ?? 0;
  const keptState = kept !== undefined && kept.engineVersion === engineVersion ? kept.stateJson : null;
  if (keptState !== null && typeof kept?.weekJson === "string" && kept.computedFor === version)
    return { state: json(keptState) };
  const surroundings = await readSurroundings(db, runnerId);
  const recordings = new RecordingReader(db);
  const keyNow = contentKeyOf(engineVersion, surroundings, await recordings.analysedHeads(runnerId));
  const isSame = keptState !== null && kept?.contentKey === keyNow;
  const rows = isSame ? [] : await recordings.analysed(runnerId);
  const state = isSame
    ? json<RunnerState>(keptState)
    : await deps.analyst.evaluate({ ...surroundings.rest, recordings: rows.map(recordingInput) });
  // Of what was evaluated: the recordings may have changed since the first look.
  const contentKey = isSame ? keyNow : contentKeyOf(engineVersion, surroundings, rows);
  const { plan } = surroundings;
  const keep = async (trx: Writing): Promise<void> => {
    // Kept only for the version it was made from: a write in between makes it stale again.
    await trx
      .updateTable("runnerState")
      .set({
        computedFor: version,
        engineVersion,
        weekJson: JSON.stringify(weekStateOf(state, plan === null ? null : outlineOf(plan))),
        computedAt: instant(deps.clock),
        ...(isSame
          ? {}
          : {
              contentKey,
              baselineSpm: state.baseline.kind === "baseline" ? state.baseline.stepRateSpm.estimate : null,
              finding: state.comparison.kind === "comparison" ? state.comparison.finding : null,
              stateJson: JSON.stringify(state),
            }),
      })
      .where("runnerId", "=", runnerId)
      .where("computedFor", "<=", version)
      .execute();
  };
  return { state, keep };
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
