// Calendar days in the group's own zone.
import { Temporal } from "temporal-polyfill";
import { type Clock, instant } from "../app/clock.ts";

export function today(clock: Clock, timeZone: string): string {
  return dayOf(instant(clock), timeZone);
}

const knownDays = new Map<string, string>();
const MOST_KNOWN_DAYS = 50_000;

/** The calendar day of a moment. Answers are kept: a week's list asks for the same thousands again and again. */
export function dayOf(at: string, timeZone: string): string {
  const key = `${timeZone} ${at}`;
  const known = knownDays.get(key);
  if (known !== undefined) return known;
  if (knownDays.size >= MOST_KNOWN_DAYS) knownDays.clear();
  const day = findDay(at, timeZone);
  knownDays.set(key, day);
  return day;
}

function findDay(at: string, timeZone: string): string {
  return Temporal.Instant.from(at).toZonedDateTimeISO(timeZone).toPlainDate().toString();
}

/** The moment a day begins, as text that sorts with stored moments. */
export function startOfDay(day: string, timeZone: string): string {
  const start = Temporal.PlainDate.from(day).toZonedDateTime(timeZone);
  return new Date(start.epochMilliseconds).toISOString();
}

export function plusDays(day: string, days: number): string {
  return Temporal.PlainDate.from(day).add({ days }).toString();
}

/** Weeks run from the programme's first day: its number (1 is the first) and its first day. */
export function weekOf(day: string, startsOn: string): { readonly number: number; readonly startsOn: string } {
  const days = Temporal.PlainDate.from(startsOn).until(Temporal.PlainDate.from(day), { largestUnit: "days" }).days;
  const index = Math.floor(days / 7);
  return { number: index + 1, startsOn: plusDays(startsOn, 7 * index) };
}

export function nextWeekday(day: string, weekday: number): string {
  const date = Temporal.PlainDate.from(day);
  return date.add({ days: (weekday - date.dayOfWeek + 7) % 7 }).toString();
}
