import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { examplePlan, goodWeek } from "../../../tests/examples/plans.ts";
import { redFlags, type RedFlag } from "../target/red-flags.ts";
import { defaultSettings } from "../target/settings.ts";
import { decide, type PlanState } from "./decide.ts";
import type { WeekEvidence } from "./week-evidence.ts";

const plan = examplePlan();
const second: PlanState = { plan, rung: 1, nextWeekOn: "2026-03-16" };

function at(evidence: WeekEvidence, state: PlanState = second): string {
  const decision = decide(state, evidence);
  return `${decision.rule} ${decision.action}`;
}

const flags = Object.keys(redFlags) as RedFlag[];

describe("weekly decisions, the first rule that applies", () => {
  it("[D1] pain above 5, or any warning sign, stops and refers", () => {
    expect(at(goodWeek({ pain: { worst0to10: 6, where: "shin" } }))).toBe("D1 stop-and-refer");
    expect(at(goodWeek({ pain: { worst0to10: 5.5 } }))).toBe("D1 stop-and-refer");
    for (const flag of flags)
      expect(at(goodWeek({ pain: { worst0to10: 0, redFlags: [flag] } })), flag).toBe("D1 stop-and-refer");
    const decision = decide(second, goodWeek({ pain: { worst0to10: 6, where: "shin" } }));
    expect(decision.markedStop).toBe(true);
    expect(decision.nextStageIndex).toBeUndefined();
    expect(decision.reasons[0]!.text).toContain("shin");
    expect(decision.reasons[0]!.text).toContain("doctor or physiotherapist");
  });

  it("[D2] pain of 3 to 5 eases back one stage and asks again after 24 hours", () => {
    for (const worst0to10 of [3, 4, 5]) {
      const decision = decide(second, goodWeek({ pain: { worst0to10 } }));
      expect(decision).toMatchObject({
        rule: "D2",
        action: "ease-back",
        nextStageIndex: 0,
        nextStepRateSpm: 162,
        recheckAfterHours: 24,
      });
    }
    expect(at(goodWeek({ pain: { worst0to10: 2 } }))).toBe("D8 move-on");
  });

  it("[D2] back from the first stage is the baseline without the beat, back from consolidation the stage before the last", () => {
    const pain = { worst0to10: 4 };
    expect(decide({ ...second, rung: 0 }, goodWeek({ pain }))).toMatchObject({
      nextStageIndex: -1,
      nextStepRateSpm: 160,
    });
    expect(decide({ ...second, rung: 5 }, goodWeek({ pain }))).toMatchObject({
      nextStageIndex: 3,
      nextStepRateSpm: 168,
    });
  });

  it("[D3] a run more than 10 % longer than the longest of 30 days stays; exactly 10 % does not count", () => {
    expect(at(goodWeek({ longestRunM: 11_100, longestBefore30DaysM: 10_000 }))).toBe("D3 stay");
    expect(at(goodWeek({ longestRunM: 11_000, longestBefore30DaysM: 10_000 }))).toBe("D8 move-on");
    expect(at(goodWeek({ longestRunM: 11_000 }))).toBe("D8 move-on");
  });

  it("[D4] nothing measured stays and asks for one run or one count", () => {
    const decision = decide(second, goodWeek({ cuedSessions: [] }));
    expect(decision).toMatchObject({ rule: "D4", action: "stay", nextStageIndex: 1 });
    expect(decision.question).toContain("one count");
    expect(at(goodWeek({ measuredThisWeek: 0 }))).toBe("D4 stay");
  });

  it("[P8] one missed week repeats the stage, two step back one", () => {
    expect(at(goodWeek({ sessionsDone: 0, cuedSessions: [] }))).toBe("D4 stay");
    const decision = decide(second, goodWeek({ sessionsDone: 0, cuedSessions: [], missedWeeksInRow: 2 }));
    expect(decision).toMatchObject({ rule: "P8", action: "ease-back", nextStageIndex: 0 });
  });

  it("[D5] in band but more than 3 % faster: same speed, shorter steps", () => {
    const decision = decide(second, goodWeek({ speedChangeShare: 0.031 }));
    expect(decision).toMatchObject({ rule: "D5", action: "stay" });
    expect(decision.reasons[0]!.text).toContain("Same speed, shorter steps");
    expect(at(goodWeek({ speedChangeShare: 0.03 }))).toBe("D8 move-on");
  });

  it("[D6] a late-run drop beyond 2 %, or beyond the runner's own usual, stays", () => {
    expect(at(goodWeek({ lateDropShare: 0.021 }))).toBe("D6 stay");
    expect(at(goodWeek({ lateDropShare: 0.02 }))).toBe("D8 move-on");
    expect(at(goodWeek({ lateDropShare: 0.015, usualLateDropShare: 0.01 }))).toBe("D6 stay");
    expect(at(goodWeek({ lateDropShare: -0.05 }))).toBe("D8 move-on");
  });

  it("[D7] under half in band in two sessions running eases back; once does not", () => {
    const sessions = (...shares: number[]): WeekEvidence =>
      goodWeek({ cuedSessions: shares.map((inBandShare) => ({ inBandShare })) });
    expect(at(sessions(0.9, 0.49, 0.4))).toBe("D7 ease-back");
    expect(at(sessions(0.4, 0.9, 0.4))).toBe("D9 stay");
    expect(at(sessions(0.4, 0.5))).toBe("D9 stay");
    // The session before this week's counts as running too.
    expect(at({ ...sessions(0.3, 0.3), measuredThisWeek: 1 })).toBe("D7 ease-back");
  });

  it("[D8] in band at least 80 %, speed within 3 %, cue-off not back at baseline: move on", () => {
    expect(decide(second, goodWeek())).toMatchObject({
      rule: "D8",
      action: "move-on",
      nextStageIndex: 2,
      nextStepRateSpm: 166,
    });
    expect(at(goodWeek({ cuedSessions: [{ inBandShare: 0.8 }] }))).toBe("D8 move-on");
    expect(at(goodWeek({ cuedSessions: [{ inBandShare: 0.79 }] }))).toBe("D9 stay");
    expect(at(goodWeek({ speedChangeShare: -0.04 }))).toBe("D9 stay");
    expect(at(goodWeek({ carryOverShare: 0.1 }))).toBe("D9 stay");
    expect(at(goodWeek({ carryOverShare: 0.25 }))).toBe("D8 move-on");
  });

  it("[D8] nobody moves on while pain or speed is unknown, or pain is above 2", () => {
    const { pain: _pain, ...notAsked } = goodWeek();
    expect(decide(second, notAsked)).toMatchObject({ rule: "D8", action: "stay" });
    expect(decide(second, notAsked).question).toContain("Any pain?");
    const { speedChangeShare: _speed, ...noSpeed } = goodWeek();
    expect(decide(second, noSpeed)).toMatchObject({ rule: "D8", action: "stay" });
    expect(at(goodWeek({ pain: { worst0to10: 2.5 } }))).toBe("D8 stay");
  });

  it("[D8] at the last stage moving on is consolidation, and in consolidation it stays that", () => {
    expect(decide({ ...second, rung: 4 }, goodWeek())).toMatchObject({ nextStageIndex: 5, nextStepRateSpm: 170 });
    expect(decide({ ...second, rung: 5 }, goodWeek())).toMatchObject({ nextStageIndex: 5, nextStepRateSpm: 170 });
  });

  it("[D8] from the baseline back to the first stage once a week went without pain", () => {
    const atBaseline = { ...second, rung: -1 };
    expect(decide(atBaseline, goodWeek({ cuedSessions: [], otherMeasured: true }))).toMatchObject({
      action: "move-on",
      nextStageIndex: 0,
    });
    expect(
      decide(atBaseline, goodWeek({ cuedSessions: [], otherMeasured: true, pain: { worst0to10: 2.5 } })),
    ).toMatchObject({ action: "stay" });
  });

  it("[D9] stays otherwise", () => {
    expect(at(goodWeek({ cuedSessions: [{ inBandShare: 0.6 }] }))).toBe("D9 stay");
  });

  it("[P2] a stage goes on until it has its week and three sessions", () => {
    expect(at(goodWeek({ sessionsDone: 2 }))).toBe("P2 stay");
    expect(at(goodWeek({ sessionsDone: 1, stageSessionsDone: 3 }))).toBe("D8 move-on");
    expect(at(goodWeek({ stageDaysDone: 5 }))).toBe("P2 stay");
  });

  it("[P9] no new stage in the two weeks before a race, but consolidation may begin", () => {
    const racing = examplePlan({ raceDate: "2026-05-30" });
    expect(at(goodWeek(), { plan: racing, rung: 1, nextWeekOn: "2026-05-16" })).toBe("P9 stay");
    expect(at(goodWeek(), { plan: racing, rung: 1, nextWeekOn: "2026-05-15" })).toBe("D8 move-on");
    expect(at(goodWeek(), { plan: racing, rung: 4, nextWeekOn: "2026-05-18" })).toBe("D8 move-on");
  });

  it("[T5] after calf, Achilles or bone trouble nobody moves on before calf and Achilles were asked about", () => {
    const careful: PlanState = { plan: examplePlan({}, { history: ["bone"] }), rung: 1, nextWeekOn: "2026-03-16" };
    const { calfAchillesAsked: _asked, ...evidence } = goodWeek();
    expect(decide(careful, evidence)).toMatchObject({ rule: "T5", action: "stay" });
    expect(decide(careful, evidence).question).toContain("Achilles");
    expect(at(goodWeek(), careful)).toBe("D8 move-on");
  });

  it("earlier rules win: each rule beats all that come after it", () => {
    const worst: WeekEvidence = goodWeek({
      pain: { worst0to10: 6 },
      longestRunM: 20_000,
      longestBefore30DaysM: 10_000,
      speedChangeShare: 0.1,
      lateDropShare: 0.1,
    });
    expect(at(worst)).toBe("D1 stop-and-refer");
    expect(at({ ...worst, pain: { worst0to10: 3 } })).toBe("D2 ease-back");
    expect(at({ ...worst, pain: { worst0to10: 0 } })).toBe("D3 stay");
    expect(at({ ...worst, pain: { worst0to10: 0 }, longestRunM: 9000 })).toBe("D5 stay");
    expect(at({ ...worst, pain: { worst0to10: 0 }, longestRunM: 9000, speedChangeShare: 0 })).toBe("D6 stay");
  });

  it("every threshold is a setting", () => {
    const strict = examplePlan({
      settings: { ...defaultSettings, painEaseLimit: 2, painStartLimit: 1, inBandMoveOnShare: 0.95 },
    });
    expect(at(goodWeek({ pain: { worst0to10: 2 } }), { ...second, plan: strict })).toBe("D2 ease-back");
    expect(at(goodWeek(), { ...second, plan: strict })).toBe("D9 stay");
  });

  it("refuses numbers that nobody can have sent", () => {
    expect(() => decide({ ...second, rung: 7 }, goodWeek())).toThrow("rung must be −1 to 5");
    expect(() => decide(second, goodWeek({ pain: { worst0to10: 12 } }))).toThrow("worst0to10");
    expect(() => decide(second, goodWeek({ cuedSessions: [{ inBandShare: 80 }] }))).toThrow(
      "inBandShare must be 0 to 1",
    );
  });
});

const evidences: fc.Arbitrary<WeekEvidence> = fc.record(
  {
    pain: fc.record({
      worst0to10: fc.integer({ min: 0, max: 10 }),
      redFlags: fc.array(fc.constantFrom(...flags), { maxLength: 1 }),
    }),
    calfAchillesAsked: fc.boolean(),
    sessionsPlanned: fc.constant(3),
    sessionsDone: fc.integer({ min: 0, max: 3 }),
    missedWeeksInRow: fc.integer({ min: 0, max: 3 }),
    cuedSessions: fc.array(fc.record({ inBandShare: fc.double({ min: 0, max: 1, noNaN: true }) }), { maxLength: 4 }),
    speedChangeShare: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
    lateDropShare: fc.double({ min: -0.05, max: 0.08, noNaN: true }),
    carryOverShare: fc.double({ min: -0.5, max: 1.2, noNaN: true }),
    longestRunM: fc.integer({ min: 1000, max: 20_000 }),
    longestBefore30DaysM: fc.integer({ min: 1000, max: 20_000 }),
  },
  { requiredKeys: ["sessionsPlanned", "sessionsDone", "cuedSessions"] },
);

describe("properties of decisions", () => {
  const states = fc.integer({ min: -1, max: 5 }).map((rung): PlanState => ({ plan, rung, nextWeekOn: "2026-03-16" }));

  it("[D2] property: no target rises after pain above the rule, and none passes the cap", () => {
    fc.assert(
      fc.property(states, evidences, (state, evidence) => {
        const decision = decide(state, evidence);
        const now = state.rung < 0 ? plan.baselineSpm : plan.rungsSpm[Math.min(state.rung, 4)]!;
        const pain = evidence.pain?.worst0to10 ?? 0;
        if (pain > 2) expect(decision.nextStepRateSpm ?? -Infinity).toBeLessThanOrEqual(now);
        if (pain >= 3 && state.rung >= 0) expect(decision.nextStepRateSpm ?? -Infinity).toBeLessThan(now);
        expect(decision.nextStepRateSpm ?? 0).toBeLessThanOrEqual(plan.capSpm);
      }),
      { seed: 21, numRuns: 2000 },
    );
  });

  it("[P8] property: a missed week never raises a target", () => {
    fc.assert(
      fc.property(states, evidences, fc.integer({ min: 1, max: 5 }), (state, evidence, missedWeeksInRow) => {
        const decision = decide(state, { ...evidence, sessionsDone: 0, missedWeeksInRow });
        expect(["stay", "ease-back", "stop-and-refer"]).toContain(decision.action);
      }),
      { seed: 22, numRuns: 500 },
    );
  });

  it("property: the same evidence gives the same decision, always with a reason, and changes nothing it is given", () => {
    fc.assert(
      fc.property(states, evidences, (state, evidence) => {
        const before = JSON.stringify([state, evidence]);
        const decision = decide(state, evidence);
        expect(decide(structuredClone(state), structuredClone(evidence))).toEqual(decision);
        expect(JSON.stringify([state, evidence])).toBe(before);
        expect(decision.reasons.length).toBeGreaterThan(0);
        expect(decision.reasons.some((entry) => entry.rule === decision.rule)).toBe(true);
        expect(decision.markedStop).toBe(decision.action === "stop-and-refer");
      }),
      { seed: 23, numRuns: 500 },
    );
  });

  it("property: more pain never leads to a higher next target", () => {
    fc.assert(
      fc.property(states, evidences, fc.integer({ min: 0, max: 9 }), (state, evidence, pain) => {
        const next = (worst0to10: number): number =>
          decide(state, { ...evidence, pain: { worst0to10 } }).nextStepRateSpm ?? 0;
        expect(next(pain + 1)).toBeLessThanOrEqual(next(pain));
      }),
      { seed: 24, numRuns: 1000 },
    );
  });
});
