import fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, it } from "vitest";
import { type CalendarEvent, type CalendarInput, planCalendar } from "./icalendar.ts";

const EVENT: CalendarEvent = {
  uid: "plan-7-2026-03-04@spondee",
  date: "2026-03-04",
  startTime: "18:30",
  durationMin: 45,
  title: "Stage 2: 172 spm",
  description: "Warm up; then beat for 10 min, off for 5.\nKeep 6:00 /km.",
};
const INPUT: CalendarInput = {
  name: "Wednesday group",
  events: [EVENT],
  timeZone: "Europe/Vienna",
  madeAt: "2026-03-01T12:00:00Z",
};

function feed(...events: readonly Partial<CalendarEvent>[]): string {
  return planCalendar({
    ...INPUT,
    events: events.map((event, index) => ({ ...EVENT, uid: `event-${index}`, ...event })),
  });
}

function read(text: string): ICAL.Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents("vevent").map((component) => new ICAL.Event(component));
}

describe("iCalendar feed", () => {
  it("outside tool: ical.js reads back every field", () => {
    const [event] = read(planCalendar(INPUT));
    expect(event!.uid).toBe(EVENT.uid);
    expect(event!.summary).toBe(EVENT.title);
    expect(event!.description).toBe(EVENT.description);
    expect(event!.startDate.toJSDate().toISOString()).toBe("2026-03-04T17:30:00.000Z");
    expect(event!.endDate.toJSDate().toISOString()).toBe("2026-03-04T18:15:00.000Z");
    expect(event!.component.getFirstPropertyValue("dtstamp")?.toString()).toBe("2026-03-01T12:00:00Z");
  });

  it("published: the local clock stays through the change to summer time (European Union, last Sunday of March, 1:00 UTC)", () => {
    const starts = read(
      feed({ date: "2026-03-28" }, { date: "2026-03-29" }, { date: "2026-10-24" }, { date: "2026-10-25" }),
    ).map((event) => event.startDate.toJSDate().toISOString().slice(11, 16));
    expect(starts).toEqual(["17:30", "16:30", "16:30", "17:30"]);
  });

  it("a start in the skipped hour moves on by it, and an event over the change lasts its minutes", () => {
    const [event] = read(feed({ date: "2026-03-29", startTime: "02:30", durationMin: 60 }));
    expect(event!.startDate.toJSDate().toISOString()).toBe("2026-03-29T01:30:00.000Z");
    expect(event!.duration.toSeconds()).toBe(3600);
  });

  it("an event without a time takes the day and does not block it", () => {
    const text = feed({ startTime: undefined } as unknown as Partial<CalendarEvent>);
    expect(text).toContain("\r\nDTSTART;VALUE=DATE:20260304\r\n");
    expect(text).toContain("\r\nTRANSP:TRANSPARENT\r\n");
    expect(text).not.toContain("DTEND");
    const [event] = read(text);
    expect(event!.startDate.isDate).toBe(true);
    expect(event!.duration.toSeconds()).toBe(86_400);
  });

  it("published: required properties once each, in the order begin to end (RFC 5545, 3.6 and 3.6.1)", () => {
    const lines = planCalendar(INPUT).split("\r\n");
    for (const name of ["VERSION", "PRODID", "UID", "DTSTAMP", "DTSTART", "SUMMARY", "SEQUENCE", "STATUS"])
      expect(lines.filter((line) => new RegExp(`^${name}[:;]`).test(line)).length, name).toBe(1);
    expect(lines[0]).toBe("BEGIN:VCALENDAR");
    expect(lines.at(-2)).toBe("END:VCALENDAR");
    expect(lines.at(-1)).toBe("");
  });

  it("published: text escapes are those of RFC 5545, 3.3.11", () => {
    const text = feed({ title: String.raw`a\b;c,d`, description: "one\r\ntwo\rthree\u0007" });
    expect(text).toContain(String.raw`SUMMARY:a\\b\;c\,d`);
    expect(text).toContain(String.raw`DESCRIPTION:one\ntwo\nthree`);
  });

  it("closed form: 200 letters fold into 75, 75 and the rest, each continuation begun by one space", () => {
    const lines = feed({ title: "a".repeat(200) }).split("\r\n");
    const at = lines.findIndex((line) => line.startsWith("SUMMARY:"));
    expect(lines.slice(at, at + 3)).toEqual([`SUMMARY:${"a".repeat(67)}`, ` ${"a".repeat(74)}`, ` ${"a".repeat(59)}`]);
  });

  it("a title cannot add lines or properties of its own", () => {
    const text = feed({ title: "x\r\nEND:VEVENT\r\nBEGIN:VEVENT", uid: "u\r\nATTENDEE:mailto:a@example.org" });
    expect(read(text).length).toBe(1);
    expect(text.split("\r\n").filter((line) => line.startsWith("ATTENDEE"))).toEqual([]);
  });

  it("a cancelled session stays in the feed as cancelled, with a higher sequence", () => {
    const text = feed({ cancelled: true, sequence: 3 });
    expect(text).toContain("\r\nSTATUS:CANCELLED\r\n");
    expect(text).toContain("\r\nSEQUENCE:3\r\n");
  });

  it("outside tool: a feed without sessions is still a calendar with a component", () => {
    const calendar = new ICAL.Component(ICAL.parse(planCalendar({ ...INPUT, events: [] })));
    expect(calendar.getAllSubcomponents().map(({ name }) => name)).toEqual(["vtimezone"]);
    expect(calendar.getFirstPropertyValue("name")).toBe("Wednesday group");
  });

  it("outside tool: any text comes back whole, every line is at most 75 octets and ends in CRLF", () => {
    const control = /[^\n\t\P{Control}]/gu;
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme", maxLength: 200, size: "max" }),
        fc.string({ unit: "binary", maxLength: 200, size: "max" }),
        (title, description) => {
          const text = feed({ title, description });
          for (const line of text.split("\r\n")) {
            expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
            expect(line).not.toMatch(/[\r\n]/);
            expect(line).not.toMatch(/\p{Surrogate}/u);
          }
          const [event] = read(text);
          const expected = (value: string): string => value.replaceAll(/\r\n?/g, "\n").replaceAll(control, "");
          expect(event!.summary).toBe(expected(title));
          expect(event!.description).toBe(expected(description));
        },
      ),
      { seed: 20_261_125, numRuns: 100 },
    );
  });

  it("throws on what does not exist", () => {
    for (const wrong of [{ date: "2026-02-30" }, { startTime: "25:00" }, { durationMin: 0 }, { durationMin: 1.5 }])
      expect(() => feed(wrong), JSON.stringify(wrong)).toThrow(RangeError);
    expect(() => planCalendar({ ...INPUT, timeZone: "Europe/Nowhere" })).toThrow(RangeError);
    expect(() => planCalendar({ ...INPUT, events: [EVENT, EVENT] })).toThrow(RangeError);
  });
});
