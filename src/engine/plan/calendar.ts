// Days: which dates of a week hold sessions, given the group's evening and the days that are taken.
import { Temporal } from "temporal-polyfill";
import type { DateRange, PlainDateText } from "./plan.ts";

const DAY_MS = 86_400_000;

export interface SessionDay {
  readonly date: PlainDateText;
  readonly place: "group" | "own";
}

/** Lists ask thousands of times; a day of UTC always has 24 hours, so this is the calendar's sum at a tenth of its cost. */
export function addDays(date: PlainDateText, days: number): PlainDateText {
  return new Date(Date.parse(date) + days * DAY_MS).toISOString().slice(0, 10);
}

export function addMonths(date: PlainDateText, months: number): PlainDateText {
  return Temporal.PlainDate.from(date).add({ months }).toString();
}

/** Days from one date to another; below 0 when `to` is earlier. */
export function daysBetween(from: PlainDateText, to: PlainDateText): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: "days" }).days;
}

/** 1 Monday to 7 Sunday. */
export function weekdayOf(date: PlainDateText): number {
  return Temporal.PlainDate.from(date).dayOfWeek;
}

/** True for a date that exists, written like 2026-03-02. */
export function isPlainDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  try {
    return Temporal.PlainDate.from(text, { overflow: "reject" }).toString() === text;
  } catch {
    return false;
  }
}

/** ISO plain dates sort as text. */
export function inRange(date: PlainDateText, range: DateRange): boolean {
  return date >= range.from && date <= range.to;
}

/**
 * Session days of the week that begins on `weekStart`: the group's evening first, the others spread evenly after it. A
 * day that is taken moves to the nearest free one of the week; with up to three sessions it keeps a day of rest between
 * them. When no day is left the session is left out.
 */
export function sessionDays(
  weekStart: PlainDateText,
  options: {
    readonly perWeek: number;
    readonly groupWeekday?: number;
    readonly isTaken: (date: PlainDateText) => boolean;
  },
): SessionDay[] {
  const anchor = options.groupWeekday === undefined ? 0 : (options.groupWeekday - weekdayOf(weekStart) + 7) % 7;
  const dates = Array.from({ length: 7 }, (_, offset) => addDays(weekStart, offset));
  const free = new Set(dates.filter((date) => !options.isTaken(date)).map((date) => dates.indexOf(date)));
  const used = new Set<number>();
  const keepsRestDay = options.perWeek <= 3;
  for (let session = 0; session < options.perWeek; session += 1) {
    const wanted = (anchor + Math.round((7 * session) / options.perWeek)) % 7;
    const open = [...free].filter(
      (offset) => !used.has(offset) && !(keepsRestDay && (used.has(offset - 1) || used.has(offset + 1))),
    );
    // Nearest first; of two equally near the later, which leaves the runner more rest.
    const place = open.sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted) || b - a)[0];
    if (place !== undefined) used.add(place);
  }
  return [...used]
    .sort((a, b) => a - b)
    .map((offset) => ({
      date: dates[offset] ?? weekStart,
      place: options.groupWeekday !== undefined && offset === anchor ? "group" : "own",
    }));
}
