import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { examplePlan, goodWeek, sessionsOf, targetsByDate } from "../../../tests/examples/plans.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { adaptPlan, nextWeekAfter, rungOn } from "./adapt-plan.ts";
import { addDays } from "./calendar.ts";
import { decide } from "./decide.ts";
import { overrideDecision } from "./override.ts";
import type { Plan } from "./plan.ts";
import type { WeekEvidence } from "./week-evidence.ts";

const kinds = (plan: Plan): string[] =>
  plan.stages.map((stage) => `${stage.kind} ${stage.stepRateSpm} ${stage.startsOn}`);

/** Decides and adapts at the end of each week, as a coach would on Sunday. */
function live(plan: Plan, weeks: readonly WeekEvidence[]): Plan {
  return weeks.reduce((current, evidence, week) => {
    const on = addDays(plan.request.startDate, 7 * week + 6);
    const decision = decide(
      { plan: current, rung: rungOn(current, on), nextWeekOn: nextWeekAfter(current, on) },
      evidence,
    );
    return current.status === "stopped"
      ? current
      : adaptPlan(current, decision, { on, sessionsMissed: 3 - evidence.sessionsDone });
  }, plan);
}

const missed = (inRow = 1): WeekEvidence => goodWeek({ sessionsDone: 0, cuedSessions: [], missedWeeksInRow: inRow });

describe("a plan after decisions", () => {
  it("moving on every week keeps the plan as it was", () => {
    const plan = examplePlan();
    const lived = live(
      plan,
      Array.from({ length: 7 }, () => goodWeek()),
    );
    expect(kinds(lived).slice(0, 6)).toEqual(kinds(plan));
    expect(targetsByDate(lived)).toEqual(targetsByDate(plan));
    expect(lived.decisions).toHaveLength(7);
  });

  it("[D9] staying runs the stage once more and moves the rest by a week", () => {
    const lived = live(examplePlan(), [goodWeek(), goodWeek({ cuedSessions: [{ inBandShare: 0.6 }] })]);
    expect(kinds(lived).slice(1, 4)).toEqual([
      "step-up 164 2026-03-09",
      "repeat 164 2026-03-16",
      "step-up 166 2026-03-23",
    ]);
    expect(lived.stages.map((stage) => stage.index)).toEqual(lived.stages.map((_, index) => index));
  });

  it("[D2] easing back takes one stage, from the first one to the baseline without the beat", () => {
    const pain = { worst0to10: 4 };
    const lived = live(examplePlan(), [goodWeek(), goodWeek({ pain })]);
    expect(kinds(lived).slice(1, 4)).toEqual([
      "step-up 164 2026-03-09",
      "step-back 162 2026-03-16",
      "step-up 164 2026-03-23",
    ]);
    const first = live(examplePlan(), [goodWeek({ pain })]);
    expect(kinds(first).slice(0, 3)).toEqual([
      "step-up 162 2026-03-02",
      "step-back 160 2026-03-09",
      "step-up 162 2026-03-16",
    ]);
    for (const { session, cuedMinutes } of first.stages[1]!.sessions) {
      expect(cuedMinutes).toBe(0);
      expect(session.blocks.every((block) => block.stepRateSpm === undefined)).toBe(true);
    }
  });

  it("[D1] a stop takes everything ahead away, from that day on", () => {
    const plan = examplePlan();
    const decision = decide({ plan, rung: 1, nextWeekOn: "2026-03-16" }, goodWeek({ pain: { worst0to10: 7 } }));
    const stopped = adaptPlan(plan, decision, { on: "2026-03-10" });
    expect(stopped.status).toBe("stopped");
    expect(sessionsOf(stopped).every((session) => session.date <= "2026-03-10")).toBe(true);
    expect(stopped.recallChecks).toEqual([]);
    expect(stopped.decisions[0]!.decision.rule).toBe("D1");
  });

  it("[P2] with one session a week a stage goes on over its three weeks and is not begun again each week", () => {
    const plan = examplePlan({ sessionsPerWeek: 1 });
    const week = (done: number): WeekEvidence =>
      goodWeek({ sessionsPlanned: 1, sessionsDone: 1, stageSessionsDone: done });
    let current = plan;
    for (const [index, evidence] of [week(1), week(2), week(3)].entries()) {
      const on = addDays("2026-03-02", 7 * index + 6);
      current = adaptPlan(
        current,
        decide({ plan: current, rung: rungOn(current, on), nextWeekOn: nextWeekAfter(current, on) }, evidence),
        { on },
      );
    }
    expect(kinds(current)).toEqual(kinds(plan));
  });

  it("[P8] a missed week repeats the stage, a second steps back", () => {
    expect(kinds(live(examplePlan(), [goodWeek(), missed()])).slice(1, 4)).toEqual([
      "step-up 164 2026-03-09",
      "repeat 164 2026-03-16",
      "step-up 166 2026-03-23",
    ]);
    expect(kinds(live(examplePlan(), [goodWeek(), missed(), missed(2)])).slice(1, 5)).toEqual([
      "step-up 164 2026-03-09",
      "repeat 164 2026-03-16",
      "step-back 162 2026-03-23",
      "step-up 164 2026-03-30",
    ]);
  });

  it("[P8] the week after a missed one has its minutes, not longer ones", () => {
    const minutesOf = (plan: Plan, from: string): number[] =>
      sessionsOf(plan)
        .filter((session) => session.date >= from && session.date <= addDays(from, 6))
        .map((session) => session.mainMinutes);
    const plan = examplePlan();
    const lived = live(plan, [goodWeek(), missed()]);
    expectClose(minutesOf(lived, "2026-03-16"), minutesOf(plan, "2026-03-09"), {
      rtol: 1e-12,
      because: "what was missed is planned again",
    });
  });

  it("[P12] a protocol is run to its end, week after week, as it was laid", () => {
    for (const protocolId of ["crowell-2011", "crowell-2026", "bowser-2018", "neal-2018"]) {
      const plan = examplePlan({ protocolId });
      let current = plan;
      let done = 0;
      for (let week = 0; week < 8; week += 1) {
        const on = addDays("2026-03-02", 7 * week + 6);
        const thisWeek = sessionsOf(plan).filter(
          (session) => session.date > addDays(on, -7) && session.date <= on,
        ).length;
        done += thisWeek;
        const evidence = goodWeek({ sessionsPlanned: thisWeek, sessionsDone: thisWeek, stageSessionsDone: done });
        const state = { plan: current, rung: rungOn(current, on), nextWeekOn: nextWeekAfter(current, on) };
        current = adaptPlan(current, decide(state, evidence), { on });
      }
      expect(sessionsOf(current), protocolId).toEqual(sessionsOf(plan));
    }
  });

  it("[D2] a protocol eased back begins again, with its first minutes and all of its beat", () => {
    const plan = examplePlan({ protocolId: "crowell-2011" });
    const decision = decide({ plan, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek({ pain: { worst0to10: 4 } }));
    const lived = adaptPlan(plan, decision, { on: "2026-03-08" });
    expect(lived.stages.map((stage) => stage.stepRateSpm)).toEqual([170, 160, 170]);
    const again = lived.stages[2]!.sessions;
    expect(again.map((session) => session.cueShare)).toEqual([1, 1, 1, 1, 0.75, 0.5, 0.25, 0.1]);
    expect(again[0]!.mainMinutes).toBeLessThan(20);
  });

  it("[D10] an override is honoured and visible, with the proposal kept beside it", () => {
    const plan = examplePlan();
    const state = { plan, rung: 1, nextWeekOn: "2026-03-16" };
    const proposed = decide(state, goodWeek({ cuedSessions: [{ inBandShare: 0.7 }] }));
    const by = { by: "Coach Ilse", at: "2026-03-15", action: "move-on", reason: "" } as const;
    const overruled = overrideDecision(proposed, by, state);
    expect(overruled.ok).toBe(true);
    if (!overruled.ok) return;
    expect(overruled.value).toMatchObject({
      action: "move-on",
      proposedAction: "stay",
      rule: "D9",
      override: by,
      nextStepRateSpm: 166,
    });
    const lived = adaptPlan(plan, overruled.value, { on: "2026-03-15" });
    expect(kinds(lived)[2]).toBe("step-up 166 2026-03-16");
    expect(lived.decisions[0]!.decision.override).toEqual(by);
  });

  it("[D10] a stop is overruled only with a typed reason, and stays marked", () => {
    const plan = examplePlan();
    const state = { plan, rung: 1, nextWeekOn: "2026-03-16" };
    const stop = decide(state, goodWeek({ pain: { worst0to10: 6 } }));
    const override = { by: "Coach Ilse", at: "2026-03-15", action: "stay", reason: "  " } as const;
    const refused = overrideDecision(stop, override, state);
    expect(!refused.ok && refused.problems[0]!.code).toBe("override-needs-reason");
    const nobody = overrideDecision(stop, { ...override, by: "", reason: "seen by a doctor" }, state);
    expect(!nobody.ok && nobody.problems[0]!.code).toBe("override-needs-name");
    const taken = overrideDecision(stop, { ...override, reason: "seen by a doctor" }, state);
    expect(taken.ok && taken.value.markedStop).toBe(true);
    if (!taken.ok) return;
    const lived = adaptPlan(plan, taken.value, { on: "2026-03-15" });
    expect(lived.status).toBe("running");
    expect(lived.decisions[0]!.decision).toMatchObject({
      markedStop: true,
      rule: "D1",
      override: { reason: "seen by a doctor" },
    });
  });

  it("in consolidation staying repeats a week, moving on lets it end", () => {
    const weeks = Array.from({ length: 6 }, () => goodWeek());
    const ended = live(examplePlan(), [...weeks, goodWeek()]);
    expect(ended.stages.at(-1)!.endsOn).toBe("2026-04-19");
    const longer = live(examplePlan(), [...weeks, goodWeek({ cuedSessions: [{ inBandShare: 0.6 }] })]);
    expect(longer.stages.at(-1)!.endsOn).toBe("2026-04-26");
    expect(longer.recallChecks[0]!.date).toBe("2026-05-26");
  });

  it("knows the rung of a date and the week after it", () => {
    const plan = examplePlan();
    expect(rungOn(plan, "2026-03-02")).toBe(0);
    expect(rungOn(plan, "2026-03-15")).toBe(1);
    expect(rungOn(plan, "2026-04-10")).toBe(5);
    expect(nextWeekAfter(plan, "2026-03-02")).toBe("2026-03-09");
    expect(nextWeekAfter(plan, "2026-03-08")).toBe("2026-03-09");
    expect(nextWeekAfter(plan, "2026-02-01")).toBe("2026-03-02");
  });
});

describe("properties of adaptation", () => {
  const week: fc.Arbitrary<WeekEvidence> = fc.oneof(
    fc.constant(goodWeek()),
    fc.constant(missed()),
    fc.constant(missed(2)),
    fc.constant(goodWeek({ cuedSessions: [] })),
    fc.constant(goodWeek({ cuedSessions: [{ inBandShare: 0.3 }, { inBandShare: 0.3 }] })),
    fc.integer({ min: 0, max: 10 }).map((worst0to10) => goodWeek({ pain: { worst0to10 } })),
  );
  const settings = { seed: 31, numRuns: 40 };

  it("property: no date ever has a higher target, more minutes or less beat than the first plan had, and none passes the cap", () => {
    const plan = examplePlan();
    const first = targetsByDate(plan);
    const planned = new Map(sessionsOf(plan).map((session) => [session.date, session]));
    fc.assert(
      fc.property(fc.array(week, { maxLength: 8 }), (weeks) => {
        const lived = live(plan, weeks);
        for (const [date, target] of targetsByDate(lived)) {
          expect(target).toBeLessThanOrEqual(plan.capSpm);
          expect(target).toBeLessThanOrEqual(first.get(date) ?? plan.aimSpm);
        }
        for (const session of sessionsOf(lived)) {
          const was = planned.get(session.date);
          if (was === undefined) continue;
          expect(session.mainMinutes).toBeLessThanOrEqual(was.mainMinutes + 1e-9);
          // At the baseline there is no beat at all; a first day of a stage that moved may have had it all the way.
          if (session.cueShare > 0 && !was.firstOfStage)
            expect(session.cueShare).toBeGreaterThanOrEqual(was.cueShare - 1e-9);
        }
      }),
      settings,
    );
  });

  it("[P8] property: a missed week never accelerates: at no date a higher target or longer minutes than without it", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 1, max: 3 }), (before, missedCount) => {
        const start = live(
          examplePlan(),
          Array.from({ length: before }, () => goodWeek()),
        );
        const on = (week: number): string => addDays("2026-03-02", 7 * (before + week) + 6);
        let current = start;
        for (let count = 0; count < missedCount; count += 1) {
          const state = {
            plan: current,
            rung: rungOn(current, on(count)),
            nextWeekOn: nextWeekAfter(current, on(count)),
          };
          current = adaptPlan(current, decide(state, missed(count + 1)), { on: on(count), sessionsMissed: 3 });
        }
        const planned = new Map(sessionsOf(start).map((session) => [session.date, session]));
        const targets = targetsByDate(start);
        const now = targetsByDate(current);
        for (const session of sessionsOf(current)) {
          const was = planned.get(session.date);
          if (was === undefined) continue;
          expect(now.get(session.date)!).toBeLessThanOrEqual(targets.get(session.date)!);
          expect(session.mainMinutes).toBeLessThanOrEqual(was.mainMinutes + 1e-9);
        }
      }),
      settings,
    );
  });

  it("[D2] property: after pain above the rule no later week is above the target of the week it hurt, until a decision moves on", () => {
    const plan = examplePlan();
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 3, max: 10 }), (before, worst0to10) => {
        const weeks = [...Array.from({ length: before }, () => goodWeek()), goodWeek({ pain: { worst0to10 } })];
        const lived = live(plan, weeks);
        const hurtOn = addDays("2026-03-02", 7 * before + 6);
        const target = [...targetsByDate(lived)].filter(([date]) => date <= hurtOn).at(-1)![1];
        const nextWeek = sessionsOf(lived).filter(
          (session) => session.date > hurtOn && session.date <= addDays(hurtOn, 14),
        );
        if (worst0to10 > 5) expect(nextWeek).toEqual([]);
        const targets = targetsByDate(lived);
        for (const session of nextWeek) expect(targets.get(session.date)!).toBeLessThanOrEqual(target);
      }),
      settings,
    );
  });

  it("property: what lies behind never changes, and the same decision gives the same plan", () => {
    fc.assert(
      fc.property(fc.array(week, { minLength: 1, maxLength: 6 }), (weeks) => {
        const before = live(examplePlan(), weeks.slice(0, -1));
        const after = live(examplePlan(), weeks);
        const on = addDays("2026-03-02", 7 * (weeks.length - 1) + 6);
        const behind = (plan: Plan): string => JSON.stringify(sessionsOf(plan).filter((session) => session.date <= on));
        expect(behind(after)).toBe(behind(before));
        expect(live(examplePlan(), weeks)).toEqual(after);
      }),
      settings,
    );
  });
});
