import { describe, expect, it } from "vitest";
import { daysBetween, isPlainDate, sessionDays, weekdayOf } from "./calendar.ts";

const monday = "2026-03-02";
const nothingTaken = (): boolean => false;

describe("days of a week", () => {
  it("knows its weekdays: 2 March 2026 is a Monday", () => {
    expect(weekdayOf(monday)).toBe(1);
  });

  it("three sessions with the group on Tuesday fall on Tuesday, Thursday and Sunday", () => {
    expect(sessionDays(monday, { perWeek: 3, groupWeekday: 2, isTaken: nothingTaken })).toEqual([
      { date: "2026-03-03", place: "group" },
      { date: "2026-03-05", place: "own" },
      { date: "2026-03-08", place: "own" },
    ]);
  });

  it("a taken day moves to the nearest free one and keeps a day of rest", () => {
    const days = sessionDays(monday, { perWeek: 3, groupWeekday: 2, isTaken: (date) => date === "2026-03-05" });
    expect(days.map((day) => day.date)).toEqual(["2026-03-03", "2026-03-06", "2026-03-08"]);
  });

  it("with no room the sessions are fewer, never back to back", () => {
    const days = sessionDays(monday, { perWeek: 3, groupWeekday: 2, isTaken: (date) => date > "2026-03-05" });
    expect(days.map((day) => day.date)).toEqual(["2026-03-03", "2026-03-05"]);
    expect(sessionDays(monday, { perWeek: 3, isTaken: () => true })).toEqual([]);
  });

  it("when the group's evening is taken the session is the runner's own", () => {
    const days = sessionDays(monday, { perWeek: 1, groupWeekday: 2, isTaken: (date) => date === "2026-03-03" });
    expect(days).toEqual([{ date: "2026-03-04", place: "own" }]);
  });

  it("crosses months, years and the night the clocks change without losing a day", () => {
    expect(daysBetween("2026-03-28", "2026-03-30")).toBe(2);
    expect(daysBetween("2027-12-31", "2028-03-01")).toBe(61);
  });

  it("takes only dates that exist and are written in full", () => {
    for (const good of ["2026-03-02", "2028-02-29"]) expect(isPlainDate(good), good).toBe(true);
    for (const bad of ["2026-02-29", "2026-3-2", "02.03.2026", "2026-03-02T00:00", "", "2026-13-01"])
      expect(isPlainDate(bad), bad).toBe(false);
  });
});
