// A plan's sessions as an iCalendar file: whole-day events, since the command line knows no time of day.
import { planCalendar } from "../engine/plan/icalendar.ts";
import type { Plan, PlannedSession } from "../engine/plan/plan.ts";
import { cardText, makeCard } from "../engine/session/card.ts";

export function planCalendarFile(plan: Plan, nowMs: number): string {
  const sessions = [...plan.stages.flatMap((stage) => stage.sessions), ...plan.recallChecks];
  return planCalendar({
    name: `Cadence plan, ${plan.baselineSpm} to ${plan.aimSpm} spm`,
    timeZone: "Etc/UTC",
    madeAt: new Date(nowMs).toISOString(),
    events: sessions.map((planned) => ({
      uid: `plan-${plan.request.startDate}-session-${planned.date}@spondee.invalid`,
      date: planned.date,
      durationMin: Math.max(1, Math.round(planned.mainMinutes)),
      title: planned.session.title,
      description: describe(plan, planned),
    })),
  });
}

function describe(plan: Plan, planned: PlannedSession): string {
  const speed = plan.speedMps === null ? {} : { speedMps: plan.speedMps };
  return cardText(makeCard(planned.session, { date: planned.date, baselineSpm: plan.baselineSpm, ...speed }));
}
