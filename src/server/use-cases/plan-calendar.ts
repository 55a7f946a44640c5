// Plans as calendar events: the same session keeps its uid when the plan is made anew, so a calendar moves it.
import { type CalendarEvent, planCalendar } from "../../engine/plan/icalendar.ts";
import { cardText, makeCard } from "../../engine/session/card.ts";
import type { Plan } from "../../engine/plan/plan.ts";

export interface CalendarOwner {
  readonly runnerId: string;
  /** Before the title where several runners share a feed. */
  readonly name?: string;
  readonly plan: Plan;
}

/** One feed of whole-day events (RFC 5545): a runner's own, or a group's with the names in front. */
export function calendarOf(name: string, owners: readonly CalendarOwner[], timeZone: string, madeAt: string): string {
  return planCalendar({ name, timeZone, madeAt, events: owners.flatMap(eventsOf) });
}

function eventsOf(owner: CalendarOwner): CalendarEvent[] {
  const sessions = [...owner.plan.stages.flatMap((stage) => stage.sessions), ...owner.plan.recallChecks];
  const speed = owner.plan.speedMps === null ? {} : { speedMps: owner.plan.speedMps };
  return sessions.map((entry) => {
    return {
      uid: `${entry.date}-${entry.kind}-${owner.runnerId}@spondee`,
      date: entry.date,
      durationMin: Math.max(1, Math.round(entry.mainMinutes)),
      title: owner.name === undefined ? entry.session.title : `${owner.name}: ${entry.session.title}`,
      description: cardText(
        makeCard(entry.session, { date: entry.date, baselineSpm: owner.plan.baselineSpm, ...speed }),
      ),
      ...(entry.place === "group" ? { location: "With the group" } : {}),
    };
  });
}
