import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { examplePlan, goodWeek } from "../../../tests/examples/plans.ts";
import { rungOn } from "./adapt-plan.ts";
import { decide } from "./decide.ts";
import { outlineOf } from "./plan-outline.ts";

const plan = examplePlan();
const outline = outlineOf(plan);

describe("a plan's outline", () => {
  it("property: decides every week as the whole plan does, after a round through JSON", () => {
    const kept = JSON.parse(JSON.stringify(outline)) as typeof outline;
    const last = plan.stages.at(-1)!.endsOn;
    const weeks = fc.record({
      rung: fc.integer({ min: -1, max: plan.rungsSpm.length }),
      nextWeekOn: fc.constantFrom("2026-03-16", "2026-03-30", last),
      evidence: fc
        .record({
          pain: fc.option(fc.record({ worst0to10: fc.integer({ min: 0, max: 10 }) }), { nil: undefined }),
          inBandShare: fc.double({ min: 0, max: 1, noNaN: true }),
          speedChangeShare: fc.option(fc.double({ min: -0.1, max: 0.1, noNaN: true }), { nil: undefined }),
          stageSessionsDone: fc.nat(6),
        })
        .map(({ inBandShare, ...more }) => goodWeek({ ...more, cuedSessions: [{ inBandShare }] } as never)),
    });
    fc.assert(
      fc.property(weeks, ({ evidence, ...state }) => {
        expect(decide({ plan: kept, ...state }, evidence)).toEqual(decide({ plan, ...state }, evidence));
      }),
      { seed: 4, numRuns: 300 },
    );
    for (const stage of plan.stages) expect(rungOn(kept, stage.endsOn)).toBe(rungOn(plan, stage.endsOn));
  });

  it("is small beside the plan, and holds every session's date", () => {
    expect(JSON.stringify(outline).length).toBeLessThan(JSON.stringify(plan).length / 8);
    expect(outline.stages.flatMap((stage) => stage.sessions.map((session) => session.date))).toEqual(
      plan.stages.flatMap((stage) => stage.sessions.map((session) => session.date)),
    );
  });
});
