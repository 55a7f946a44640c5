// The week's triage of a group: evidence, proposed decision and the coach's, pain first.
import type { Week, WeekRow } from "../../api/index.ts";
import { decide } from "../../engine/plan/decide.ts";
import type { Decision } from "../../engine/plan/decision.ts";
import { addDays } from "../../engine/plan/calendar.ts";
import { rungOn } from "../../engine/plan/adapt-plan.ts";
import type { PlanOutline } from "../../engine/plan/plan-outline.ts";
import type { WeekEvidence } from "../../engine/plan/week-evidence.ts";
import { triage } from "../../engine/group/triage.ts";
import { GroupReader, WeekReader } from "../../store/index.ts";
import type { WeekState } from "../analysis/runner-state.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound } from "../app/refusal.ts";
import { dayOf, plusDays, startOfDay, today, weekOf } from "./dates.ts";
import { stageOn } from "./plan-row.ts";
import { json, presentDecision } from "./present.ts";
import { presentReason } from "./proposal.ts";
import { freshenGroup } from "./runner-state.ts";
import type { GroupWeek, RunnerWeek } from "./runner-week.ts";
import { inBandOfWeek, weekEvidence } from "./week-evidence.ts";
import { weekSentence } from "./week-sentence.ts";

export async function readWeek(deps: Deps, groupId: string, on: string | undefined): Promise<GroupWeek> {
  const { db } = deps.store;
  const group = await new GroupReader(db).row(groupId);
  if (group === undefined) throw notFound("group");
  await freshenGroup(deps, groupId);
  const { timeZone } = group;
  const now = today(deps.clock, timeZone);
  const week = weekOf(on ?? now, group.startsOn);
  const from = startOfDay(week.startsOn, timeZone);
  const to = startOfDay(plusDays(week.startsOn, 7), timeZone);
  const reader = new WeekReader(db);
  const pain = groupBy(await reader.pain(groupId, from, to));
  const counts = groupBy(await reader.counts(groupId, from, to));
  const reports = groupBy(await reader.doneReports(groupId, startOfDay(plusDays(week.startsOn, -70), timeZone), to));
  const decided = new Map((await reader.decisions(groupId, week.startsOn)).map((row) => [row.runnerId, row]));
  const runners = (await reader.rows(groupId)).map((runner): RunnerWeek => {
    const state = typeof runner.weekJson === "string" ? json<WeekState>(runner.weekJson) : null;
    const plan = state?.plan ?? null;
    const ownPain = pain.get(runner.id) ?? [];
    const ownCounts = counts.get(runner.id) ?? [];
    const ownReports = reports.get(runner.id) ?? [];
    const recordingCount = (state?.runs ?? []).filter(
      (run) => run.startedAt !== null && run.startedAt >= from && run.startedAt < to,
    ).length;
    const evidence =
      plan === null || state === null || plan.status === "stopped"
        ? null
        : weekEvidence({
            plan,
            state,
            weekStartsOn: week.startsOn,
            timeZone,
            pain: ownPain,
            counts: ownCounts,
            doneDays: ownReports.map((row) => dayOf(row.at, timeZone)),
          });
    const proposed = plan === null || evidence === null ? null : proposedDecision(plan, evidence, week.startsOn);
    const sentThisWeek = ownReports.some((row) => row.at >= from);
    return {
      runner,
      state,
      plan,
      evidence,
      proposed,
      decided: decided.get(runner.id),
      worstPain: ownPain.length === 0 ? null : Math.max(...ownPain.map((row) => row.score)),
      recordingCount,
      sentNothing: recordingCount === 0 && ownCounts.length === 0 && ownPain.length === 0 && !sentThisWeek,
    };
  });
  return { startsOn: week.startsOn, number: week.number, timeZone, today: now, runners };
}

/** What the rules say of a week that lies inside the plan; null before it begins. */
function proposedDecision(plan: PlanOutline, evidence: WeekEvidence, weekStartsOn: string): Decision | null {
  const lastDay = addDays(weekStartsOn, 6);
  if ((plan.stages[0]?.startsOn ?? lastDay) > lastDay) return null;
  return decide({ plan, rung: rungOn(plan, lastDay), nextWeekOn: addDays(weekStartsOn, 7) }, evidence);
}

export async function presentWeek(
  deps: Deps,
  groupId: string,
  query: { readonly on?: string; readonly limit?: number; readonly after?: string },
): Promise<Week> {
  const week = await readWeek(deps, groupId, query.on);
  const ordered = triage(
    week.runners.map((entry) => {
      const action = entry.decided?.decision ?? entry.proposed?.action;
      const inBandShare = entry.evidence === null ? null : inBandOfWeek(entry.evidence);
      return {
        id: entry.runner.id,
        name: entry.runner.name,
        entry,
        ...(entry.worstPain === null ? {} : { pain0to10: entry.worstPain }),
        ...(entry.sentNothing || action === undefined ? {} : { action }),
        ...(inBandShare === null ? {} : { inBandShare }),
      };
    }),
  ).map((item) => item.entry);
  const start = query.after === undefined ? 0 : Math.max(0, Math.trunc(Number(query.after)) || 0);
  const limit = query.limit ?? 200;
  const rows = ordered.slice(start, start + limit).map((entry, index) => presentRow(entry, start + index, week));
  return {
    weekStartsOn: week.startsOn,
    weekNumber: week.number,
    rows,
    next: start + limit < ordered.length ? String(start + limit) : null,
    total: ordered.length,
    undecided: ordered.filter((entry) => entry.proposed !== null && entry.decided === undefined).length,
    computedAt: instant(deps.clock),
  };
}

function presentRow(entry: RunnerWeek, urgency: number, week: GroupWeek): WeekRow {
  const { runner, plan, evidence, proposed, state } = entry;
  const stage = plan === null ? undefined : stageOn(plan, week.startsOn > week.today ? week.startsOn : week.today);
  const latest = state?.runs.at(-1);
  return {
    runnerId: runner.id,
    name: runner.name,
    initials: runner.initials,
    remote: runner.remote === 1,
    evidence: weekSentence(entry),
    urgency,
    pain: entry.worstPain,
    sentNothing: entry.sentNothing,
    recordingCount: entry.recordingCount,
    inBandShare: evidence === null ? null : inBandOfWeek(evidence),
    speedChangePercent: evidence?.speedChangeShare === undefined ? null : 100 * evidence.speedChangeShare,
    lateRunDropSpm: entry.recordingCount === 0 ? null : (latest?.lateRunDropSpm?.estimate ?? null),
    matchedChangeSpm: state?.matchedChangeSpm ?? null,
    targetSpm: plan === null || plan.status === "stopped" ? null : (stage?.stepRateSpm ?? null),
    stageIndex: stage?.index ?? null,
    stageCount: plan?.stages.length ?? null,
    proposed:
      proposed === null
        ? null
        : { decision: proposed.proposedAction, rule: proposed.rule, reasons: proposed.reasons.map(presentReason) },
    decided: entry.decided === undefined ? null : presentDecision(entry.decided),
  };
}

function groupBy<T extends { readonly runnerId: string }>(rows: readonly T[]): ReadonlyMap<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) groups.set(row.runnerId, [...(groups.get(row.runnerId) ?? []), row]);
  return groups;
}
