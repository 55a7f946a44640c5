import { describe, expect, it } from "vitest";
import { examplePlan, goodWeek } from "../../../tests/examples/plans.ts";
import { adaptPlan } from "./adapt-plan.ts";
import { decide } from "./decide.ts";
import { runnerMessage, sayDate } from "./runner-message.ts";

const options = { runner: "Runner Twelve", coach: "Coach Ilse", weekOn: "2026-03-16" };
const plan = examplePlan();

describe("the weekly message", () => {
  it("says target, speed, shorter step, the sessions and the cautions", () => {
    const text = runnerMessage(plan, options);
    expect(text).toContain("Hello Runner Twelve,");
    expect(text).toContain("This week 166 spm at 5:57 per km. Steps about 4 cm shorter");
    expect(text).toContain("Tuesday 17 March, with the group: Run with the beat, 20 minutes, beat on all the way.");
    expect(text.match(/Run with the beat/g)).toHaveLength(3);
    expect(text).toContain("keep distance and speed as they were");
    expect(text).toContain("Stop at pain");
    expect(text).toContain("hear traffic");
    expect(text.endsWith("Coach Ilse")).toBe(true);
  });

  it("says how much of the beat is left when it fades", () => {
    expect(runnerMessage(plan, { ...options, weekOn: "2026-04-06" })).toContain("beat on for about 42 % of it");
  });

  it("gives the reason of the decision, and the link", () => {
    const decision = decide({ plan, rung: 1, nextWeekOn: "2026-03-16" }, goodWeek({ speedChangeShare: 0.05 }));
    const text = runnerMessage(plan, { ...options, decision, link: "http://localhost:8080/r/example" });
    expect(text).toContain("The same step once more");
    expect(text).toContain("Same speed, shorter steps");
    expect(text).toContain("http://localhost:8080/r/example");
  });

  it("[D1] after a stop it says stop, and no session", () => {
    const decision = decide({ plan, rung: 1, nextWeekOn: "2026-03-16" }, goodWeek({ pain: { worst0to10: 8 } }));
    const text = runnerMessage(adaptPlan(plan, decision, { on: "2026-03-15" }), { ...options, decision });
    expect(text).toContain("stop running to the beat");
    expect(text).toContain("doctor or physiotherapist");
    expect(text).not.toContain("spm");
  });

  it("says so in a week without sessions, at the baseline, and at a recall check", () => {
    const away = examplePlan({ away: [{ from: "2026-03-16", to: "2026-03-22" }] });
    expect(runnerMessage(away, options)).toContain("No session with the beat this week");
    const eased = adaptPlan(
      plan,
      decide({ plan, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek({ pain: { worst0to10: 4 } })),
      { on: "2026-03-08" },
    );
    expect(runnerMessage(eased, { ...options, weekOn: "2026-03-09" })).toContain(
      "without the beat, at your own step rate",
    );
    expect(runnerMessage(plan, { ...options, weekOn: "2026-05-18" })).toContain("Recall check after 1 month. No beat");
  });

  it("says dates in words", () => {
    expect(sayDate("2026-03-01")).toBe("Sunday 1 March");
    expect(sayDate("2028-02-29")).toBe("Tuesday 29 February");
  });
});
