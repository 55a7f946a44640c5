import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { examplePlan, goodWeek, sessionsOf, targetsByDate } from "../../../tests/examples/plans.ts";
import { adaptPlan } from "./adapt-plan.ts";
import { addDays } from "./calendar.ts";
import { changeCalendar } from "./change-calendar.ts";
import { decide } from "./decide.ts";
import type { Plan } from "./plan.ts";

const changed = (...call: Parameters<typeof changeCalendar>): Plan => {
  const result = changeCalendar(...call);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const kinds = (plan: Plan): string[] =>
  plan.stages.map((stage) => `${stage.kind} ${stage.stepRateSpm} ${stage.startsOn}`);

describe("a calendar that changes under a running plan", () => {
  it("nothing changed is nothing changed, on any day of the plan", () => {
    const plans = [
      examplePlan(),
      examplePlan({ sessionsPerWeek: 1 }),
      examplePlan({ raceDate: "2026-03-29" }),
      examplePlan({ protocolId: "neal-2018" }),
    ];
    for (const plan of plans)
      for (let day = 0; day < 60; day += 3) {
        const same = changed(plan, {}, addDays("2026-03-02", day));
        expect(same, `${plan.request.protocolId ?? plan.request.sessionsPerWeek} day ${day}`).toEqual(plan);
      }
  });

  it("[P8] a holiday told beforehand gives the plan that would have been made with it", () => {
    const away = [{ from: "2026-03-23", to: "2026-03-29" }];
    expect(kinds(changed(examplePlan(), { away }, "2026-03-10"))).toEqual(kinds(examplePlan({ away })));
  });

  it("sessions of the running week on days now taken are left out, those behind stay", () => {
    const plan = changed(examplePlan(), { away: [{ from: "2026-03-11", to: "2026-03-13" }] }, "2026-03-11");
    const dates = sessionsOf(plan).map((session) => session.date);
    expect(dates).toContain("2026-03-10");
    expect(dates).not.toContain("2026-03-12");
    expect(dates).toContain("2026-03-15");
  });

  it("[P9] a race told late still holds the next stage", () => {
    const plan = changed(examplePlan(), { raceDate: "2026-03-29" }, "2026-03-12");
    expect(kinds(plan).slice(1, 4)).toEqual([
      "step-up 164 2026-03-09",
      "race-hold 164 2026-03-16",
      "step-up 166 2026-03-30",
    ]);
  });

  it("another evening moves the sessions from the next week on", () => {
    const plan = changed(examplePlan(), { groupWeekday: 4 }, "2026-03-04");
    const groupDates = sessionsOf(plan)
      .filter((session) => session.place === "group")
      .map((session) => session.date);
    expect(groupDates.slice(0, 3)).toEqual(["2026-03-03", "2026-03-12", "2026-03-19"]);
  });

  it("keeps the decisions, and a stopped plan stopped", () => {
    const plan = examplePlan();
    const stop = decide({ plan, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek({ pain: { worst0to10: 8 } }));
    const stopped = changed(adaptPlan(plan, stop, { on: "2026-03-08" }), { groupWeekday: 3 }, "2026-03-09");
    expect(stopped.status).toBe("stopped");
    expect(stopped.decisions).toHaveLength(1);
    expect(sessionsOf(stopped).every((session) => session.date <= "2026-03-08")).toBe(true);
  });

  it("tells what cannot be", () => {
    const result = changeCalendar(examplePlan(), { away: [{ from: "2026-05-02", to: "2026-05-01" }] }, "2026-03-04");
    expect(!result.ok && result.problems[0]!.code).toBe("away-backwards");
  });

  it("property: a holiday never brings a target forward", () => {
    const plan = examplePlan();
    const before = targetsByDate(plan);
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 45 }),
        fc.integer({ min: 0, max: 20 }),
        fc.integer({ min: 1, max: 20 }),
        (on, until, days) => {
          const from = addDays("2026-03-02", on + until);
          const after = changed(plan, { away: [{ from, to: addDays(from, days) }] }, addDays("2026-03-02", on));
          for (const [date, target] of targetsByDate(after))
            expect(target).toBeLessThanOrEqual(before.get(date) ?? plan.aimSpm);
        },
      ),
      { seed: 61, numRuns: 40 },
    );
  });
});
