import { describe, expect, it } from "vitest";
import { exampleBaseline, examplePlan, goodWeek } from "../../../tests/examples/plans.ts";
import { adaptPlan } from "../plan/adapt-plan.ts";
import { decide } from "../plan/decide.ts";
import { makeGroupSheet } from "./group-sheet.ts";

const planFrom = (stepRateSpm: number): ReturnType<typeof examplePlan> =>
  examplePlan({}, { baseline: exampleBaseline(stepRateSpm) });

describe("the sheet for an evening", () => {
  it("gives each runner a lane, a beat and minutes, by lane and name", () => {
    const sheet = makeGroupSheet(
      [
        { id: "1", name: "Runner C", plan: planFrom(160) },
        { id: "2", name: "Runner A", plan: planFrom(161) },
        { id: "3", name: "Runner B", plan: planFrom(152) },
      ],
      "2026-03-03",
    );
    expect(sheet.rows.map((row) => [row.name, row.stepRateSpm, row.laneNumber])).toEqual([
      ["Runner B", 154, 1],
      ["Runner A", 163, 2],
      ["Runner C", 162, 2],
    ]);
    for (const row of sheet.rows) {
      expect(row.mainMinutes).toBe(15);
      expect(row.firstOfStage).toBe(true);
      expect(Math.abs(row.beatSpm! / row.stepRateSpm - 1)).toBeLessThanOrEqual(0.015);
    }
  });

  it("[L2] no lane beats above a member's cap", () => {
    const plans = [150, 153, 156, 159, 162, 165].map((rate, index) => ({
      id: String(index),
      name: `Runner ${index}`,
      plan: planFrom(rate),
    }));
    const sheet = makeGroupSheet(plans, "2026-03-10");
    for (const row of sheet.rows) expect(row.beatSpm!).toBeLessThanOrEqual(plans[Number(row.id)]!.plan.capSpm);
  });

  it("says who is missing and why", () => {
    const plan = planFrom(160);
    const stop = decide({ plan, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek({ pain: { worst0to10: 9 } }));
    const sheet = makeGroupSheet(
      [
        { id: "1", name: "Runner A" },
        { id: "2", name: "Runner B", plan: adaptPlan(plan, stop, { on: "2026-03-04" }) },
        { id: "3", name: "Runner C", plan: examplePlan({ away: [{ from: "2026-03-10", to: "2026-03-10" }] }) },
      ],
      "2026-03-10",
    );
    expect(sheet.rows).toEqual([]);
    expect(sheet.without.map((entry) => entry.why)).toEqual(["no-plan", "stopped", "no-session"]);
  });

  it("a runner at the baseline is on the sheet without a lane", () => {
    const plan = planFrom(160);
    const ease = decide({ plan, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek({ pain: { worst0to10: 4 } }));
    const sheet = makeGroupSheet(
      [{ id: "1", name: "Runner A", plan: adaptPlan(plan, ease, { on: "2026-03-08" }) }],
      "2026-03-10",
    );
    expect(sheet.rows[0]).toMatchObject({ stepRateSpm: 160, cueShare: 0 });
    expect(sheet.rows[0]!.laneNumber).toBeUndefined();
  });
});
