// The walk over the weeks: which rung runs on which dates. Rules P2 (length), P8 (missed weeks), P9 (races), P11 (end).
import { addDays, daysBetween, inRange, sessionDays, type SessionDay } from "./calendar.ts";
import type { DateRange, PlainDateText, StageKind } from "./plan.ts";
import type { AdviceSettings } from "../target/settings.ts";

/** Where a walk begins: at the start of a plan, or after a decision. */
export interface Standing {
  /** Rung to run next; −1 means a week at the baseline without the beat, the number of rungs means consolidation. */
  readonly rung: number;
  /** Rung that was run last; −1 before the first. */
  readonly lastRung: number;
  /** Of the rung to run next, when it is going on and not beginning: what is done of it. */
  readonly goingOn?: { readonly sessionsDone: number; readonly daysDone: number };
}

export interface WalkCalendar {
  readonly perWeek: number;
  readonly groupWeekday?: number;
  readonly away: readonly DateRange[];
  readonly raceDate?: PlainDateText;
  /** Sessions wanted in a week, when they differ from week to week; weeks counted from 0 without missed ones. */
  readonly perWeekOf?: (week: number, sessionsDone: number) => number;
}

export interface WalkedDay extends SessionDay {
  readonly rung: number;
  readonly firstOfStage: boolean;
  readonly easing: boolean;
}

export interface WalkedStage {
  readonly rung: number;
  readonly kind: StageKind;
  readonly startsOn: PlainDateText;
  readonly endsOn: PlainDateText;
  readonly days: readonly WalkedDay[];
}

export interface Walk {
  readonly stages: readonly WalkedStage[];
  readonly missedWeeks: readonly PlainDateText[];
  /** False when so much is taken that the plan does not end within three years. */
  readonly finished: boolean;
}

const WEEKS_AT_MOST = 156;

export interface WalkLength {
  readonly rungCount: number;
  /** A rung lasts at least so many days and has at least so many sessions. */
  readonly stageDaysMin: number;
  readonly stageSessionsMin: number;
  readonly consolidationWeeks: number;
  /** P8: a missed week begins the stage again. A protocol of one long stage carries on where it stopped. */
  readonly restartsWhenMissed: boolean;
}

/** Lays stages on weeks from `from` on. Pure: same arguments, same dates. */
export function walkWeeks(
  from: PlainDateText,
  standing: Standing,
  length: WalkLength,
  calendar: WalkCalendar,
  settings: AdviceSettings,
): Walk {
  const stages: { rung: number; kind: StageKind; startsOn: string; endsOn: string; days: WalkedDay[] }[] = [];
  const missed: PlainDateText[] = [];
  let { rung, lastRung } = standing;
  let missedWeeks = 0;
  let sessionsDone = standing.goingOn?.sessionsDone ?? 0;
  let daysDone = standing.goingOn?.daysDone ?? 0;
  let consolidated = 0;
  // A protocol that goes on is in its second or later week.
  let placedWeeks = Math.floor(daysDone / 7);
  let fresh = standing.goingOn === undefined;
  let kind: StageKind = "step-up";

  for (let week = 0; week < WEEKS_AT_MOST; week += 1) {
    const lasting = rung >= length.rungCount;
    if (lasting && consolidated >= length.consolidationWeeks) return { stages, missedWeeks: missed, finished: true };
    const weekStart = addDays(from, 7 * week);
    const wanted = calendar.perWeekOf?.(placedWeeks, sessionsDone) ?? calendar.perWeek;
    if (wanted === 0) {
      placedWeeks += 1;
      daysDone += 7;
      continue;
    }
    const days = sessionDays(weekStart, {
      perWeek: wanted,
      ...(calendar.groupWeekday === undefined ? {} : { groupWeekday: calendar.groupWeekday }),
      isTaken: (date) => isTaken(date, calendar, settings),
    });
    const firstDay = days[0];
    if (firstDay === undefined) {
      missed.push(weekStart);
      missedWeeks += 1;
      continue;
    }
    // P8: only a break of something that was running counts.
    if (missedWeeks > 0 && lastRung >= 0 && length.restartsWhenMissed) {
      const back = missedWeeks >= settings.missedWeeksBack;
      if (back || !lasting) rung = Math.min(rung, back ? lastRung - 1 : lastRung);
      sessionsDone = 0;
      daysDone = 0;
      consolidated = 0;
      fresh = true;
    }
    missedWeeks = 0;

    // P9: a new target does not begin shortly before a race; the week runs at the last one, or waits.
    const target = Math.min(rung, length.rungCount - 1);
    const waits = target > lastRung && isRaceQuiet(firstDay.date, calendar, settings);
    if (waits && lastRung < 0) continue;
    const runs = waits ? lastRung : target;
    const nowKind: StageKind = waits
      ? "race-hold"
      : rung >= length.rungCount
        ? "consolidation"
        : fresh
          ? kindOf(runs, lastRung)
          : kind;
    const open = stages.at(-1);
    const sameHold = waits && open?.kind === "race-hold";
    const opens = !sameHold && (fresh || open === undefined || open.kind !== nowKind || open.rung !== runs);
    const higher = runs > lastRung;
    const laid = days.map((day, index) => ({
      ...day,
      rung: runs,
      // A stage that is going on from before was begun before; at the baseline there is no beat to learn.
      firstOfStage:
        opens && index === 0 && runs >= 0 && fresh && (higher || nowKind === "step-back" || nowKind === "repeat"),
      easing: isEasing(day.date, calendar, settings),
    }));
    const endsOn = addDays(weekStart, 6);
    if (opens) stages.push({ rung: runs, kind: nowKind, startsOn: weekStart, endsOn, days: laid });
    else if (open !== undefined) {
      open.endsOn = endsOn;
      open.days.push(...laid);
    }
    kind = nowKind;
    fresh = false;
    placedWeeks += 1;
    if (waits) {
      fresh = true;
      continue;
    }
    lastRung = runs;
    if (rung >= length.rungCount) {
      consolidated += 1;
      continue;
    }
    sessionsDone += laid.length;
    daysDone += 7;
    if (runs < 0 || (sessionsDone >= length.stageSessionsMin && daysDone >= length.stageDaysMin)) {
      rung += 1;
      sessionsDone = 0;
      daysDone = 0;
      fresh = true;
    }
  }
  return { stages, missedWeeks: missed, finished: false };
}

function kindOf(rung: number, lastRung: number): StageKind {
  if (rung > lastRung) return "step-up";
  return rung === lastRung ? "repeat" : "step-back";
}

function isTaken(date: PlainDateText, calendar: WalkCalendar, settings: AdviceSettings): boolean {
  if (calendar.away.some((range) => inRange(date, range))) return true;
  return calendar.raceDate !== undefined && Math.abs(daysBetween(date, calendar.raceDate)) <= settings.raceRestDays;
}

function isRaceQuiet(date: PlainDateText, calendar: WalkCalendar, settings: AdviceSettings): boolean {
  return daysToRace(date, calendar, settings.raceQuietDays);
}

function isEasing(date: PlainDateText, calendar: WalkCalendar, settings: AdviceSettings): boolean {
  return daysToRace(date, calendar, settings.raceEasingDays);
}

function daysToRace(date: PlainDateText, calendar: WalkCalendar, within: number): boolean {
  if (calendar.raceDate === undefined) return false;
  const days = daysBetween(date, calendar.raceDate);
  return days >= 0 && days <= within;
}
