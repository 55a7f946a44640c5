// A plan after a decision: what lies behind stays, what lies ahead is laid again. Never faster than it was for a miss.
import type { Decision } from "./decision.ts";
import { addDays, daysBetween } from "./calendar.ts";
import { endingBefore, layAgain, weeksConsolidated } from "./lay-again.ts";
import type { Plan, PlainDateText, PlanStage } from "./plan.ts";
import type { PlanOutline } from "./plan-outline.ts";
import { resolveRequest } from "./resolve-request.ts";
import type { WalkLength } from "./walk.ts";

export interface Adaptation {
  /** The day of the decision. */
  readonly on: PlainDateText;
  /** Planned sessions before that day that were not run: they do not count towards longer minutes or less beat. */
  readonly sessionsMissed?: number;
}

/** First day of the plan's week after a date. */
export function nextWeekAfter(plan: Plan, on: PlainDateText): PlainDateText {
  const start = plan.request.startDate;
  const days = daysBetween(start, on);
  return days < 0 ? start : addDays(start, (Math.floor(days / 7) + 1) * 7);
}

/** Rung on a date: of the stage that holds it, or the last one before it; the number of rungs in consolidation. */
export function rungOn(plan: PlanOutline, on: PlainDateText): number {
  const stage = plan.stages.filter((entry) => entry.startsOn <= on).at(-1);
  if (stage === undefined) return 0;
  return stage.kind === "consolidation" ? plan.rungsSpm.length : stage.rung;
}

/**
 * The plan with a decision taken on a day. Sessions up to the end of that week stay as they are; from the next week on
 * the rest is laid again from the decision's rung. A stop takes everything ahead away, this week's sessions too.
 */
export function adaptPlan(plan: Plan, decision: Decision, adaptation: Adaptation): Plan {
  const decisions = [...plan.decisions, { on: adaptation.on, decision }];
  if (decision.action === "stop-and-refer" || decision.nextStageIndex === undefined) {
    const stages = endingBefore(plan.stages, addDays(adaptation.on, 1));
    return { ...plan, status: "stopped", stages, recallChecks: [], ...minutes(stages), decisions };
  }
  const resolution = resolveRequest(plan.request);
  if (!resolution.ok)
    throw new TypeError("adaptPlan: the plan's own request does not resolve; was it made by makePlan?");
  const from = nextWeekAfter(plan, adaptation.on);
  const past = endingBefore(plan.stages, from);
  const sessionsMissed = adaptation.sessionsMissed ?? 0;
  const goingOn = goesOn(past, decision, from, sessionsMissed, resolution.value.length);
  // To stay in consolidation is to run its last week once more.
  const consolidated = weeksConsolidated(past) - (decision.action === "stay" ? 1 : 0);
  const adapted = layAgain(plan, plan.request, resolution.value, {
    from,
    past,
    rung: decision.nextStageIndex,
    consolidatedWeeks: Math.max(0, consolidated),
    sessionsMissed,
    ...(goingOn === undefined ? {} : { goingOn }),
  });
  return { ...adapted, decisions };
}

/**
 * What is done of a stage that goes on: the decision is to stay, and the stage was not complete. A week of which every
 * session was missed begins the stage again (P8).
 */
function goesOn(
  past: readonly PlanStage[],
  decision: Decision,
  from: PlainDateText,
  sessionsMissed: number,
  length: WalkLength,
): { readonly sessionsDone: number; readonly daysDone: number } | undefined {
  const stage = past.at(-1);
  if (stage === undefined || decision.action !== "stay" || decision.nextStageIndex !== stage.rung) return undefined;
  const lastWeek = stage.sessions.filter((session) => session.date >= addDays(from, -7));
  if (sessionsMissed > 0 && sessionsMissed >= lastWeek.length) return undefined;
  const planned = stage.sessions.length - sessionsMissed;
  const daysDone = daysBetween(stage.startsOn, from);
  const complete = planned >= length.stageSessionsMin && daysDone >= length.stageDaysMin;
  return complete ? undefined : { sessionsDone: planned, daysDone };
}

function minutes(stages: readonly PlanStage[]): Pick<Plan, "totalMinutes" | "totalCuedMinutes"> {
  const sessions = stages.flatMap((stage) => stage.sessions);
  return {
    totalMinutes: sessions.reduce((total, session) => total + session.mainMinutes, 0),
    totalCuedMinutes: sessions.reduce((total, session) => total + session.cuedMinutes, 0),
  };
}
