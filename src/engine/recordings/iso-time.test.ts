import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseClockS, parseIsoTime } from "./iso-time.ts";

describe("ISO times", () => {
  test.each([
    ["1970-01-01T00:00:00Z", 0],
    ["2000-02-29T12:00:00Z", 951825600000],
    ["2026-03-01T09:00:00.250+01:00", 1772352000250],
    ["2026-03-01T02:30:00-0530", 1772352000000],
    ["2026-03-01 08:00:00", 1772352000000],
    ["2026-03-01T08:00Z", 1772352000000],
    ["2016-12-31T23:59:60Z", 1483228800000],
    ["2026-02-28T24:00:00Z", 1772323200000],
  ])("closed form: %s", (text, utcMs) => {
    // Counted with days of 86,400 s from 1970-01-01.
    expect(parseIsoTime(text)?.utcMs).toBe(utcMs);
  });

  test.each([
    "",
    "noon",
    "2026-02-30T00:00:00Z",
    "2026-13-01T00:00:00Z",
    "2026-03-01T25:00:00Z",
    "1969-12-31T00:00:00Z",
  ])("%s is no time", (text) => {
    expect(parseIsoTime(text)).toBeUndefined();
  });

  test("property: agrees with the language's own writer of ISO times", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4e12 }), (utcMs) => {
        expect(parseIsoTime(new Date(utcMs).toISOString())).toEqual({ utcMs, hasZone: true });
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  test.each([
    ["5:30", 330],
    ["1:02:03.5", 3723.5],
    ["90:00", 5400],
    ["0:05,5", 5.5],
  ])("closed form: clock time %s", (text, seconds) => {
    expect(parseClockS(text)).toBe(seconds);
  });

  test.each(["5", "5:60", "1:75:00", "a:bc"])("%s is no clock time", (text) => {
    expect(parseClockS(text)).toBeUndefined();
  });
});
