// The end of a programme: what changed for the group and for each runner, and how sure that is.
import type { ProgrammeResult } from "../../api/index.ts";
import type { Plan } from "../../engine/plan/plan.ts";
import { GroupReader, WeekReader } from "../../store/index.ts";
import type { ProgrammeOutcome } from "../analysis/evaluate-programme.ts";
import type { RunnerState } from "../analysis/runner-state.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { today } from "./dates.ts";
import { json } from "./present.ts";
import { writeCsv } from "./roster-csv.ts";
import { evaluationInput } from "./evaluation-input.ts";
import { freshenGroup } from "./runner-state.ts";

export async function programmeResult(deps: Deps, groupId: string): Promise<ProgrammeResult> {
  const { db } = deps.store;
  const group = await new GroupReader(db).row(groupId);
  if (group === undefined) throw notFound("group");
  await freshenGroup(deps, groupId);
  const reader = new WeekReader(db);
  const attended = await reader.attendedCounts(groupId);
  const done = await reader.doneCounts(groupId);
  const states = await reader.states(groupId);
  const now = today(deps.clock, group.timeZone);
  const stateOf = (text: string | null | undefined): RunnerState | null =>
    text === null || text === undefined ? null : json<RunnerState>(text);
  const rows = (await reader.runners(groupId)).map((runner) => {
    const state = stateOf(states.get(runner.id));
    const comparison = state?.comparison.kind === "comparison" ? state.comparison : null;
    const plan = runner.planJson === null ? null : json<Plan>(runner.planJson);
    const sides = state?.comparison;
    return {
      runnerId: runner.id,
      name: runner.name,
      comparison,
      baselineSpm: state?.baseline.kind === "baseline" ? state.baseline.stepRateSpm.estimate : null,
      targetChangeSpm: plan === null ? null : plan.aimSpm - plan.baselineSpm,
      beforeRunCount: sides?.before.runCount ?? 0,
      afterRunCount: sides?.after.runCount ?? 0,
      attendedCount: attended.get(runner.id) ?? 0,
      sessionsDone: done.get(runner.id) ?? 0,
      sessionsPlanned: plan === null ? 0 : plannedUntil(plan, now),
    };
  });
  const pooled = await deps.analyst.programme(
    await Promise.all(
      rows.map(async (row) => ({
        id: row.runnerId,
        baselineSpm: row.baselineSpm,
        recordings: (await evaluationInput(db, row.runnerId)).recordings,
      })),
    ),
  );
  return {
    computedAt: instant(deps.clock),
    groupChangeSpm: pooled.groupChangeSpm,
    betweenRunnersSdSpm: pooled.betweenRunnersSdSpm,
    runners: rows.map(({ comparison, ...row }) => ({
      runnerId: row.runnerId,
      name: row.name,
      targetChangeSpm: row.targetChangeSpm,
      beforeRunCount: row.beforeRunCount,
      afterRunCount: row.afterRunCount,
      attendedCount: row.attendedCount,
      sessionsDone: row.sessionsDone,
      sessionsPlanned: row.sessionsPlanned,
      finding: comparison?.finding ?? "not-enough-evidence",
      ownChangeSpm: comparison === null ? null : asUncertain(comparison.matchedSpeedChangeSpm, row),
      shrunkenChangeSpm: pooled.shrunken[row.runnerId] ?? null,
      sentence: comparison?.sentence ?? "Not enough runs before and after to say.",
    })),
    sentence: groupSentence(pooled, rows.length),
    warnings:
      pooled.leftOut.length === 0
        ? []
        : [
            pooled.leftOut.length === 1
              ? "1 runner has no steady run to compare and is left out."
              : `${pooled.leftOut.length} runners have no steady run to compare and are left out.`,
          ],
  };
}

/** Days with a session up to and with this one: what there was to come to. */
function plannedUntil(plan: Plan, day: string): number {
  const dates = plan.stages.flatMap((stage) => stage.sessions.map((session) => session.date));
  return new Set(dates.filter((date) => date <= day)).size;
}

function asUncertain(
  change: { readonly estimate: number; readonly low95: number; readonly high95: number },
  row: { readonly beforeRunCount: number; readonly afterRunCount: number },
) {
  return {
    estimate: change.estimate,
    standardError: (change.high95 - change.low95) / (2 * 1.96),
    interval95: { low: change.low95, high: change.high95 },
    sampleCount: row.beforeRunCount + row.afterRunCount,
    method: "matched speed, this runner's own runs",
  };
}

function groupSentence(pooled: ProgrammeOutcome, runnerCount: number): string {
  const { groupChangeSpm } = pooled;
  if ("kind" in groupChangeSpm)
    return `Not enough to speak of the group yet: ${groupChangeSpm.have}; needed: ${groupChangeSpm.need}.`;
  const { estimate, interval95, sampleCount } = groupChangeSpm;
  return `At the same speed the ${sampleCount} runners with runs before and after (of ${runnerCount}) changed by ${estimate.toFixed(1)} spm on average, 95 % sure between ${interval95.low.toFixed(1)} and ${interval95.high.toFixed(1)}.`;
}

export function resultsCsv(result: ProgrammeResult): string {
  return writeCsv(
    [
      "name",
      "finding",
      "change at same speed (spm)",
      "low 95 %",
      "high 95 %",
      "with the group's help (spm)",
      "intended (spm)",
      "runs before",
      "runs after",
      "evenings attended",
      "sessions done",
      "sessions planned so far",
    ],
    result.runners.map((row) => [
      row.name,
      row.finding,
      row.ownChangeSpm?.estimate ?? null,
      row.ownChangeSpm?.interval95.low ?? null,
      row.ownChangeSpm?.interval95.high ?? null,
      row.shrunkenChangeSpm?.estimate ?? null,
      row.targetChangeSpm,
      row.beforeRunCount,
      row.afterRunCount,
      row.attendedCount,
      row.sessionsDone,
      row.sessionsPlanned,
    ]),
  );
}
