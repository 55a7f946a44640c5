// A holiday, a race or another evening that turns up when the plan already runs.
import { type Result, succeed } from "../quantities/problem.ts";
import { nextWeekAfter } from "./adapt-plan.ts";
import { daysBetween, inRange } from "./calendar.ts";
import { endingBefore, layAgain, weeksConsolidated } from "./lay-again.ts";
import type { Plan, PlainDateText, PlanRequest } from "./plan.ts";
import { resolveRequest } from "./resolve-request.ts";

export type CalendarChange = Partial<
  Pick<
    PlanRequest,
    | "proposal"
    | "away"
    | "groupAway"
    | "raceDate"
    | "groupWeekday"
    | "sessionsPerWeek"
    | "template"
    | "groupTemplate"
    | "consolidationWeeks"
    | "sessionEdits"
    | "settings"
    | "units"
  >
>;

/**
 * The plan on a changed calendar. What was before the day of the change stays; sessions of the running week that fall
 * on a day now taken are left out; from the next week on the rest is laid again from where the plan stands. A stopped
 * plan keeps stopped and only remembers the change.
 */
export function changeCalendar(plan: Plan, change: CalendarChange, on: PlainDateText): Result<Plan> {
  const request: PlanRequest = { ...plan.request, ...change };
  const resolution = resolveRequest(request);
  if (!resolution.ok) return resolution;
  if (plan.status === "stopped") return succeed({ ...plan, request });
  const resolved = resolution.value;
  const from = nextWeekAfter(plan, on);
  const { away, raceDate } = resolved.calendar;
  const past = endingBefore(plan.stages, from).map((stage) => ({
    ...stage,
    sessions: stage.sessions.filter(
      ({ date }) => date < on || (!away.some((range) => inRange(date, range)) && date !== raceDate),
    ),
  }));
  const next = plan.stages.find((stage) => stage.endsOn >= from);
  const open = past.at(-1);
  const goesOn =
    next !== undefined &&
    open !== undefined &&
    next.startsOn < from &&
    next.kind !== "consolidation" &&
    next.kind !== "race-hold";
  const rung =
    next === undefined || next.kind === "consolidation"
      ? resolved.length.rungCount
      : resumedRung(plan, next.rung, from);
  return succeed(
    layAgain(plan, request, resolved, {
      from,
      past,
      rung,
      consolidatedWeeks: next === undefined ? resolved.length.consolidationWeeks : weeksConsolidated(past),
      sessionsMissed: 0,
      ...(goesOn
        ? { goingOn: { sessionsDone: open.sessions.length, daysDone: daysBetween(open.startsOn, from) } }
        : {}),
    }),
  );
}

/** While a race is waited for the plan runs at the rung before; what comes next is the rung that waits. */
function resumedRung(plan: Plan, rung: number, from: PlainDateText): number {
  const current = plan.stages.find((stage) => stage.endsOn >= from);
  return current?.kind === "race-hold" ? rung + 1 : rung;
}
