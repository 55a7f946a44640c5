import { describe, expect, it } from "vitest";
import { cueShareOf, type CueSchedule } from "../../engine/plan/schedule.ts";
import { cueScheduleOf, type PlanForm, requestOf } from "./plan-choices.ts";

const form: PlanForm = {
  protocolId: "",
  startsOn: "2026-03-09",
  perWeek: "3",
  groupWeekday: "4",
  raceDate: "",
  away: [
    { from: "2026-03-23", to: "2026-03-29" },
    { from: "", to: "" },
  ],
  minutesStart: "12",
  minutesEnd: "",
  consolidationWeeks: "3",
  cue: "full",
  templateId: "beat-run",
  groupTemplateId: "",
};

describe("the plan's form", () => {
  it("leaves out what was left empty, and says no race and no evening outright", () => {
    expect(requestOf({ ...form, groupWeekday: "" })).toEqual({
      startsOn: "2026-03-09",
      sessionsPerWeek: 3,
      groupWeekday: null,
      raceDate: null,
      away: [{ from: "2026-03-23", to: "2026-03-29" }],
      minutesStart: 12,
      consolidationWeeks: 3,
      cueSchedule: { kind: "constant", share: 1 },
      templateId: "beat-run",
    });
  });

  it("a study keeps its own minutes, length and fading", () => {
    const request = requestOf({ ...form, protocolId: "willy-2016" });
    expect(request.protocolId).toBe("willy-2016");
    for (const field of ["minutesStart", "consolidationWeeks", "cueSchedule"] as const)
      expect(request[field]).toBeUndefined();
  });

  it("[P4] fading from the start falls from all of it to a tenth, never rising", () => {
    const schedule = cueScheduleOf("early") as CueSchedule;
    const shares = Array.from({ length: 15 }, (_, index) => cueShareOf(schedule, index, 15));
    expect(shares[0]).toBe(1);
    expect(shares.at(-1)).toBeCloseTo(0.1, 9);
    for (const [index, share] of shares.entries()) expect(share).toBeLessThanOrEqual(shares[index - 1] ?? 1);
  });
});
