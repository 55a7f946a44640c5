// Sessions that the coach changed by hand, laid over what the rules made of the week.
import { daysBetween, inRange, weekdayOf } from "./calendar.ts";
import { beatSession } from "./lay-out.ts";
import type { PlainDateText, PlannedSession, PlanStage, SessionEdit } from "./plan.ts";
import type { Resolved } from "./resolve-request.ts";

/**
 * The stages with the edits that fit them. An edit whose session is not there any more is left out, and a move to a day
 * that is taken by now keeps the day that was laid. Sessions edited before stay as they are.
 */
export function withEdits(
  stages: readonly PlanStage[],
  resolved: Resolved,
  edits: readonly SessionEdit[],
): readonly PlanStage[] {
  if (edits.length === 0) return stages;
  const dates = new Set(stages.flatMap((stage) => stage.sessions.map((session) => session.date)));
  return stages.map((stage) => {
    const sessions = stage.sessions.flatMap((session) => {
      const edit = session.editedFrom === undefined ? edits.find(({ on }) => on === session.date) : undefined;
      if (edit === undefined) return [session];
      if (edit.skipped === true) return [];
      const { moveTo } = edit;
      const moves = moveTo !== undefined && !dates.has(moveTo) && dayIsOpen(moveTo, stage, resolved);
      if (moves) dates.add(moveTo);
      return [editedSession(session, moves ? edit : withoutMove(edit), stage, resolved)];
    });
    const begins = stage.sessions.some((session) => session.firstOfStage);
    return { ...stage, sessions: inOrder(sessions, begins, stage, resolved) };
  });
}

/** Inside the stage, not away, not the race nor the days of rest around it. */
export function dayIsOpen(
  day: PlainDateText,
  stage: Pick<PlanStage, "startsOn" | "endsOn">,
  resolved: Resolved,
): boolean {
  const { away, raceDate } = resolved.calendar;
  return (
    day >= stage.startsOn &&
    day <= stage.endsOn &&
    !away.some((range) => inRange(day, range)) &&
    (raceDate === undefined || Math.abs(daysBetween(raceDate, day)) > resolved.settings.raceRestDays)
  );
}

function withoutMove(edit: SessionEdit): SessionEdit {
  const { moveTo: _, ...rest } = edit;
  return rest;
}

function editedSession(
  session: PlannedSession,
  edit: SessionEdit,
  stage: PlanStage,
  resolved: Resolved,
): PlannedSession {
  const date = edit.moveTo ?? session.date;
  const made = beatSession(resolved, {
    ...wishOf(session, stage, resolved),
    date,
    place: placeOf(date, resolved),
    minutes: edit.mainMinutes ?? session.mainMinutes,
    cueShare: edit.cueShare ?? session.cueShare,
    ...(edit.template === undefined ? {} : { template: edit.template }),
  });
  return { ...made, editedFrom: edit.on };
}

/** What a planned session was made from, to make it once more. */
export function wishOf(session: PlannedSession, stage: PlanStage, resolved: Resolved) {
  return {
    rung: stage.rung,
    date: session.date,
    place: session.place,
    firstOfStage: session.firstOfStage,
    easing: session.easing,
    minutes: session.mainMinutes,
    cueShare: session.cueShare,
    template: session.place === "group" ? (resolved.groupTemplate ?? resolved.template) : resolved.template,
  };
}

function placeOf(date: PlainDateText, resolved: Resolved): PlannedSession["place"] {
  return weekdayOf(date) === resolved.calendar.groupWeekday ? "group" : "own";
}

/**
 * By date. The first one begins the stage when `begins`: it learns the beat standing still (P5) with the beat on all the
 * way (P4). When that one moved behind another or was taken out, the next takes its place.
 */
export function inOrder(
  sessions: readonly PlannedSession[],
  begins: boolean,
  stage: PlanStage,
  resolved: Resolved,
): readonly PlannedSession[] {
  const sorted = [...sessions].sort((a, b) => (a.date < b.date ? -1 : 1));
  const learnsAnew = stage.kind === "step-up" && resolved.protocol === undefined;
  return sorted.map((session, index) => {
    const firstOfStage = begins && index === 0;
    if (session.firstOfStage === firstOfStage) return session;
    const wish = { ...wishOf(session, stage, resolved), firstOfStage };
    const made = beatSession(resolved, firstOfStage && learnsAnew ? { ...wish, cueShare: 1 } : wish);
    return session.editedFrom === undefined ? made : { ...made, editedFrom: session.editedFrom };
  });
}
