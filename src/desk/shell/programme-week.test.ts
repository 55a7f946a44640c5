import { describe, expect, it } from "vitest";
import { addDays, programmeWeek, weekdayOf } from "./programme-week.ts";

describe("weeks of a programme", () => {
  it("closed form: days 0–6 are week 1, day 7 is week 2, the day before is week 0", () => {
    expect(programmeWeek("2026-03-02", "2026-03-02")).toBe(1);
    expect(programmeWeek("2026-03-02", "2026-03-08")).toBe(1);
    expect(programmeWeek("2026-03-02", "2026-03-09")).toBe(2);
    expect(programmeWeek("2026-03-02", "2026-03-01")).toBe(0);
  });

  it("a week that holds the change of clocks has seven days", () => {
    expect(addDays("2026-03-28", 7)).toBe("2026-04-04");
    expect(programmeWeek("2026-03-23", "2026-03-30")).toBe(2);
  });

  it("published: 1 March 2026 is a Sunday and 2 March a Monday (ISO 8601 weekday numbers)", () => {
    expect(weekdayOf("2026-03-01")).toBe(7);
    expect(weekdayOf("2026-03-02")).toBe(1);
  });
});
