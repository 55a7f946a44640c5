// A plan as an iCalendar feed (RFC 5545, with NAME and REFRESH-INTERVAL of RFC 7986): for one runner or a whole group.
import { Temporal } from "temporal-polyfill";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";

export interface CalendarEvent {
  /** The same for the same session at every writing, unique over the feed: that is how a calendar moves an event instead of doubling it. */
  readonly uid: string;
  /** "2026-03-04". */
  readonly date: string;
  /** "18:30" on the feed's clock; an event without it takes the day. */
  readonly startTime?: string;
  /** Whole minutes from 1; not written for an event that takes the day. */
  readonly durationMin: number;
  readonly title: string;
  readonly description?: string;
  readonly location?: string;
  /** Raised whenever the event changes; default 0. */
  readonly sequence?: number;
  readonly cancelled?: boolean;
}

export interface CalendarInput {
  readonly name: string;
  readonly events: readonly CalendarEvent[];
  /** IANA name, "Europe/Vienna". Start times are on this zone's clock. */
  readonly timeZone: string;
  /** When the feed is made, as an instant: "2026-03-01T12:00:00Z". */
  readonly madeAt: string;
}

/**
 * The feed as text with CRLF line ends, lines folded at 75 octets. Times are written in UTC, so summer time is right
 * without a zone table in the file; a start in the hour that summer time skips moves on by that hour. Throws RangeError
 * for a date, time, zone or duration that does not exist and for a uid that comes twice.
 */
export function planCalendar(input: CalendarInput): string {
  const stamp = utcText(Temporal.Instant.from(input.madeAt));
  const uids = new Set(input.events.map(({ uid }) => uid));
  if (uids.size !== input.events.length) throw new RangeError("planCalendar: events must have distinct uids");
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Spondee//Spondee 1//EN",
    "CALSCALE:GREGORIAN",
    "METHOD:PUBLISH",
    `NAME:${text(input.name)}`,
    // What calendars read that do not know RFC 7986.
    `X-WR-CALNAME:${text(input.name)}`,
    "REFRESH-INTERVAL;VALUE=DURATION:PT6H",
    ...(input.events.length === 0 ? EMPTY_FEED : input.events.flatMap((event) => eventLines(event, input, stamp))),
    "END:VCALENDAR",
  ];
  return `${lines.map(fold).join("\r\n")}\r\n`;
}

/** A calendar must hold a component (RFC 5545, 3.6); a runner without sessions yet has a feed all the same. */
const EMPTY_FEED: readonly string[] = [
  "BEGIN:VTIMEZONE",
  "TZID:Etc/UTC",
  "BEGIN:STANDARD",
  "DTSTART:19700101T000000",
  "TZOFFSETFROM:+0000",
  "TZOFFSETTO:+0000",
  "END:STANDARD",
  "END:VTIMEZONE",
];

function eventLines(event: CalendarEvent, input: CalendarInput, stamp: string): readonly string[] {
  return [
    "BEGIN:VEVENT",
    `UID:${text(event.uid)}`,
    `DTSTAMP:${stamp}`,
    ...whenLines(event, input.timeZone),
    `SUMMARY:${text(event.title)}`,
    ...(event.description === undefined ? [] : [`DESCRIPTION:${text(event.description)}`]),
    ...(event.location === undefined ? [] : [`LOCATION:${text(event.location)}`]),
    `SEQUENCE:${event.sequence ?? 0}`,
    `STATUS:${event.cancelled === true ? "CANCELLED" : "CONFIRMED"}`,
    "CLASS:PRIVATE",
    "END:VEVENT",
  ];
}

function whenLines(event: CalendarEvent, timeZone: string): readonly string[] {
  if (!Number.isInteger(event.durationMin) || event.durationMin < 1)
    throw new RangeError(`planCalendar: durationMin must be a whole number from 1, got ${event.durationMin}`);
  const date = Temporal.PlainDate.from(event.date, { overflow: "reject" });
  if (event.startTime === undefined)
    return [`DTSTART;VALUE=DATE:${date.toString().replaceAll("-", "")}`, "TRANSP:TRANSPARENT"];
  const plainTime = Temporal.PlainTime.from(event.startTime, { overflow: "reject" });
  const start = date.toZonedDateTime({ timeZone, plainTime }).toInstant();
  const end = start.add({ seconds: event.durationMin * SECONDS_PER_MINUTE });
  return [`DTSTART:${utcText(start)}`, `DTEND:${utcText(end)}`, "TRANSP:OPAQUE"];
}

/** "20260304T173000Z". */
function utcText(instant: Temporal.Instant): string {
  return instant.toString({ smallestUnit: "second" }).replaceAll(/[-:]/g, "");
}

/** TEXT of RFC 5545, 3.3.11: backslash, semicolon, comma and line ends escaped; other control characters are not allowed. */
function text(value: string): string {
  return value
    .replaceAll(/\r\n?/g, "\n")
    .replaceAll(/[^\n\t\P{Control}]|\p{Surrogate}/gu, "")
    .replaceAll(/[\\;,]/g, String.raw`\$&`)
    .replaceAll("\n", String.raw`\n`);
}

const LINE_OCTETS = 75;

/** RFC 5545, 3.1: at most 75 octets a line, continued after CRLF and a space; no character is cut in two. */
function fold(line: string): string {
  let folded = "";
  let octets = 0;
  for (const character of line) {
    const size = utf8Octets(character);
    if (octets + size > LINE_OCTETS) {
      folded += "\r\n ";
      octets = 1;
    }
    folded += character;
    octets += size;
  }
  return folded;
}

function utf8Octets(character: string): number {
  const point = character.codePointAt(0) ?? 0;
  if (point < 0x80) return 1;
  if (point < 0x800) return 2;
  return point < 0x10000 ? 3 : 4;
}
