// A plan as iCalendar (RFC 5545): whole-day events, CRLF, lines folded at 75 octets, ids that stay when it is made anew.
import type { Plan, PlannedSession } from "../../engine/plan/plan.ts";
import { plusDays } from "./dates.ts";

export function planCalendar(plan: Plan, runnerId: string, stampedAt: string): string {
  const stamp = `${stampedAt.replaceAll(/[-:]/g, "").slice(0, 15)}Z`;
  const sessions = [...plan.stages.flatMap((stage) => stage.sessions), ...plan.recallChecks];
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Spondee//Plan//EN",
    "CALSCALE:GREGORIAN",
    ...sessions.flatMap((entry) => event(entry, runnerId, stamp)),
    "END:VCALENDAR",
  ];
  return lines
    .flatMap(fold)
    .map((line) => `${line}\r\n`)
    .join("");
}

function event(entry: PlannedSession, runnerId: string, stamp: string): string[] {
  const date = (day: string): string => day.replaceAll("-", "");
  const cue =
    entry.kind === "recall-check" ? "Without the beat." : `${Math.round(entry.cuedMinutes)} min with the beat.`;
  return [
    "BEGIN:VEVENT",
    `UID:${entry.date}-${entry.kind}-${runnerId}@spondee`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${date(entry.date)}`,
    `DTEND;VALUE=DATE:${date(plusDays(entry.date, 1))}`,
    `SUMMARY:${text(entry.session.title)}`,
    `DESCRIPTION:${text(`${Math.round(entry.mainMinutes)} min main part. ${cue} Stop when it hurts.`)}`,
    "TRANSP:TRANSPARENT",
    "END:VEVENT",
  ];
}

function text(value: string): string {
  return value.replaceAll(/[\\;,]/g, (character) => `\\${character}`).replaceAll(/\r?\n/g, "\\n");
}

/** Never inside a character: folded by octets of UTF-8. */
function fold(line: string): string[] {
  const parts: string[] = [];
  let part = "";
  let octets = 0;
  for (const character of line) {
    const size = Buffer.byteLength(character, "utf8");
    if (octets + size > 74) {
      parts.push(part);
      part = " ";
      octets = 1;
    }
    part += character;
    octets += size;
  }
  return [...parts, part];
}
