// Plans as calendar events: the same session keeps its uid when the plan is made anew, so a calendar moves it.
import { type CalendarEvent, planCalendar } from "../../engine/plan/icalendar.ts";
import { cardText, makeCard } from "../../engine/session/card.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import type { Session } from "../../engine/session/session.ts";
import type { Plan } from "../../engine/plan/plan.ts";

export interface CalendarOwner {
  readonly runnerId: string;
  /** Before the title where several runners share a feed. */
  readonly name?: string;
  readonly plan: Plan;
}

/** One feed (RFC 5545), whole days unless the evening has a time: a runner's own, or a group's with the names in front. */
export function calendarOf(
  name: string,
  owners: readonly CalendarOwner[],
  timeZone: string,
  madeAt: string,
  eveningTime = "",
): string {
  return planCalendar({ name, timeZone, madeAt, events: owners.flatMap((owner) => eventsOf(owner, eveningTime)) });
}

function eventsOf(owner: CalendarOwner, eveningTime: string): CalendarEvent[] {
  const sessions = [...owner.plan.stages.flatMap((stage) => stage.sessions), ...owner.plan.recallChecks];
  const speed = owner.plan.speedMps === null ? {} : { speedMps: owner.plan.speedMps };
  return sessions.map((entry) => {
    return {
      uid: `${entry.date}-${entry.kind}-${owner.runnerId}@spondee`,
      date: entry.date,
      durationMin: wholeMinutes(entry.session),
      title: owner.name === undefined ? entry.session.title : `${owner.name}: ${entry.session.title}`,
      description: cardText(
        makeCard(entry.session, { date: entry.date, baselineSpm: owner.plan.baselineSpm, ...speed }),
      ),
      ...(entry.place === "group" ? { location: "With the group" } : {}),
      ...(entry.place === "group" && eveningTime !== "" ? { startTime: eveningTime } : {}),
    };
  });
}

/** From warm-up to cool-down; a distance without a speed counts as nothing. */
function wholeMinutes(session: Session): number {
  const seconds = session.blocks.reduce(
    (sum, { durationS, distanceM, speedMps }) =>
      sum + (durationS ?? (distanceM !== undefined && speedMps !== undefined ? distanceM / speedMps : 0)),
    0,
  );
  return Math.max(1, Math.round(seconds / SECONDS_PER_MINUTE));
}
