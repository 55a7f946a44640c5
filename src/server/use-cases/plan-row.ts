// A plan as it is stored, and as the API tells it.
import type { Plan as PlanShape, Session as SessionShape } from "../../api/index.ts";
import type { Plan, PlannedSession } from "../../engine/plan/plan.ts";
import type { Session } from "../../engine/session/session.ts";
import { starterTemplates } from "../../engine/session/starter-templates.ts";
import { defaultSettings } from "../../engine/target/settings.ts";
import { presentReason } from "./proposal.ts";

export function planRow(runnerId: string, plan: Plan, today: string, updatedAt: string) {
  const stage = stageOn(plan, today);
  return {
    id: runnerId,
    runnerId,
    planJson: JSON.stringify(plan),
    currentStageIndex: stage?.index ?? 0,
    stageCount: plan.stages.length,
    currentSpm: stage?.stepRateSpm ?? plan.baselineSpm,
    stopped: plan.status === "stopped" ? 1 : 0,
    edited: 0,
    updatedAt,
  };
}

/** The stage that holds a day; the first before the plan begins, the last after it ends. */
export function stageOn<Stage extends { readonly startsOn: string }>(
  plan: { readonly stages: readonly Stage[] },
  day: string,
): Stage | undefined {
  return plan.stages.filter((stage) => stage.startsOn <= day).at(-1) ?? plan.stages[0];
}

export function presentPlan(plan: Plan, today: string): PlanShape {
  const first = plan.stages[0];
  const last = plan.stages.at(-1);
  return {
    kind: "plan",
    status: plan.status,
    startsOn: first?.startsOn ?? plan.request.startDate,
    endsOn: last?.endsOn ?? plan.request.startDate,
    protocolId: plan.request.protocolId ?? null,
    baselineSpm: plan.baselineSpm,
    goalSpm: plan.aimSpm,
    capSpm: plan.capSpm,
    speedMps: plan.speedMps,
    speedExponent: plan.request.proposal.speedExponent,
    rungsSpm: [...plan.rungsSpm],
    currentStageIndex: stageOn(plan, today)?.index ?? 0,
    stages: plan.stages.map((stage) => ({
      index: stage.index,
      rung: stage.rung,
      kind: stage.kind,
      stepRateSpm: stage.stepRateSpm,
      addedSpm: stage.stepRateSpm - plan.baselineSpm,
      startsOn: stage.startsOn,
      endsOn: stage.endsOn,
      loadFrozenUntil: stage.loadFrozenUntil ?? null,
    })),
    sessions: plan.stages.flatMap((stage) => stage.sessions.map((entry) => presentSession(entry, stage.index))),
    recallChecks: plan.recallChecks.map((entry) => presentSession(entry, null)),
    missedWeeks: [...plan.missedWeeks],
    skippedOn: (plan.request.sessionEdits ?? []).flatMap((edit) => (edit.skipped === true ? [edit.on] : [])),
    away: (plan.request.away ?? []).map((range) => ({ ...range })),
    raceDate: plan.request.raceDate ?? null,
    groupWeekday: plan.request.groupWeekday ?? null,
    sessionsPerWeek: plan.request.sessionsPerWeek ?? (plan.request.settings ?? defaultSettings).sessionsPerWeek,
    consolidationWeeks:
      plan.request.consolidationWeeks ?? (plan.request.settings ?? defaultSettings).consolidationWeeks,
    templateId: plan.request.template?.id ?? starterTemplates.beatRun.id,
    groupTemplateId: plan.request.groupTemplate?.id ?? null,
    totalCuedMinutes: plan.totalCuedMinutes,
    reasons: plan.reasons.map(presentReason),
    cautions: [...plan.cautions],
  };
}

export function presentSession(entry: PlannedSession, stageIndex: number | null): PlanShape["sessions"][number] {
  return {
    id: entry.session.id,
    on: entry.date,
    stageIndex,
    kind: entry.kind,
    inPerson: entry.place === "group",
    mainMinutes: entry.mainMinutes,
    cuedMinutes: entry.cuedMinutes,
    cueShare: entry.cueShare,
    firstOfStage: entry.firstOfStage,
    easing: entry.easing,
    editedFrom: entry.editedFrom ?? null,
    session: sessionShape(entry.session),
  };
}

export function sessionShape(session: Session): SessionShape {
  return { id: session.id, title: session.title, blocks: session.blocks.map((block) => ({ ...block })) };
}
