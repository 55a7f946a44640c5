// Lays what is ahead of a plan again, from a week on, without touching what lies behind.
import { addDays, daysBetween } from "./calendar.ts";
import { countBeatSessions, layOutStages } from "./lay-out.ts";
import { assemble } from "./make-plan.ts";
import type { Plan, PlainDateText, PlanRequest, PlanStage } from "./plan.ts";
import type { Resolved } from "./resolve-request.ts";
import { withEdits } from "./session-edits.ts";
import { type Standing, walkWeeks } from "./walk.ts";

export interface Ahead {
  /** First day of the week to lay from. */
  readonly from: PlainDateText;
  /** Stages that end before it. */
  readonly past: readonly PlanStage[];
  /** Rung to run next; the number of rungs is consolidation. */
  readonly rung: number;
  /** The rung is going on, not beginning. */
  readonly goingOn?: NonNullable<Standing["goingOn"]>;
  /** Weeks of consolidation that are behind and count. */
  readonly consolidatedWeeks: number;
  /** Sessions behind that were not run: minutes and fading do not go on from them. */
  readonly sessionsMissed: number;
}

export function layAgain(plan: Plan, request: PlanRequest, resolved: Resolved, ahead: Ahead): Plan {
  const { from, past, rung, goingOn } = ahead;
  const { length } = resolved;
  const walk = walkWeeks(
    from,
    { rung, lastRung: past.at(-1)?.rung ?? -1, ...(goingOn === undefined ? {} : { goingOn }) },
    rung < length.rungCount
      ? length
      : { ...length, consolidationWeeks: Math.max(0, length.consolidationWeeks - ahead.consolidatedWeeks) },
    resolved.calendar,
    resolved.settings,
  );
  // A protocol that begins again begins with its first minutes and all of its beat.
  const cuedCount =
    resolved.protocol !== undefined && goingOn === undefined
      ? 0
      : Math.max(0, countBeatSessions(past) - ahead.sessionsMissed);
  const laid = withEdits(
    layOutStages(resolved, walk, { stageCount: past.length, cuedCount }),
    resolved,
    request.sessionEdits ?? [],
  );
  const open = past.at(-1)?.kind;
  const sameWaiting = open === laid[0]?.kind && (open === "consolidation" || open === "race-hold");
  const stages = goingOn !== undefined || sameWaiting ? joined(past, laid) : [...past, ...laid];
  const missedWeeks = [...plan.missedWeeks.filter((week) => week < from), ...walk.missedWeeks];
  return { ...assemble(request, resolved, stages, { missedWeeks }), decisions: plan.decisions };
}

/** The first stage laid is the rest of the last one behind. */
function joined(past: readonly PlanStage[], laid: readonly PlanStage[]): PlanStage[] {
  const [rest, ...others] = laid;
  const open = past.at(-1);
  if (rest === undefined || open === undefined) return [...past, ...laid];
  return [
    ...past.slice(0, -1),
    { ...open, endsOn: rest.endsOn, sessions: [...open.sessions, ...rest.sessions] },
    ...others.map((stage) => ({ ...stage, index: stage.index - 1 })),
  ];
}

/** Weeks of consolidation at the end of what lies behind. */
export function weeksConsolidated(past: readonly PlanStage[]): number {
  const last = past.at(-1);
  return last?.kind === "consolidation" ? Math.round((daysBetween(last.startsOn, last.endsOn) + 1) / 7) : 0;
}

/** What of the stages lies before a date. */
export function endingBefore(stages: readonly PlanStage[], date: PlainDateText): PlanStage[] {
  return stages
    .filter((stage) => stage.startsOn < date)
    .map((stage) => ({
      ...stage,
      endsOn: stage.endsOn < date ? stage.endsOn : addDays(date, -1),
      sessions: stage.sessions.filter((session) => session.date < date),
    }));
}
