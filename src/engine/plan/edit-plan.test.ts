import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { examplePlan, sessionsOf } from "../../../tests/examples/plans.ts";
import type { Result } from "../quantities/problem.ts";
import { starterTemplates } from "../session/starter-templates.ts";
import { adaptPlan } from "./adapt-plan.ts";
import { changeCalendar } from "./change-calendar.ts";
import { decide } from "./decide.ts";
import { editRung, editSession, type SessionChange } from "./edit-plan.ts";
import type { Plan } from "./plan.ts";
import { goodWeek } from "../../../tests/examples/plans.ts";

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}
function codes(result: Result<unknown>): string[] {
  return result.ok ? [] : result.problems.map((problem) => problem.code);
}
const datesOf = (plan: Plan): string[] => sessionsOf(plan).map((session) => session.date);
const at = (plan: Plan, date: string) => sessionsOf(plan).find((session) => session.date === date);

// Starts Monday 2 March 2026, three sessions a week, the group's evening on Tuesday; stages of a week, +2 spm.
const start = "2026-03-02";

describe("editing a session", () => {
  it("moves it inside its stage, and everything else stays", () => {
    const plan = examplePlan();
    const [, second, third] = datesOf(plan);
    const free = ["2026-03-04", "2026-03-06", "2026-03-07"].find((day) => !datesOf(plan).includes(day))!;
    const edited = value(editSession(plan, second!, { moveTo: free }, start));
    expect(datesOf(edited)).toContain(free);
    expect(datesOf(edited)).not.toContain(second);
    expect(sessionsOf(edited).length).toBe(sessionsOf(plan).length);
    expect(at(edited, free)).toMatchObject({ editedFrom: second, mainMinutes: at(plan, second!)!.mainMinutes });
    expect(at(edited, third!)).toEqual(at(plan, third!));
    expect(edited.stages.slice(1)).toEqual(plan.stages.slice(1));
  });

  it("refuses a day of another stage, a taken one, an away day and the days around a race", () => {
    const plan = examplePlan({ away: [{ from: "2026-03-14", to: "2026-03-14" }] });
    const [first, second] = datesOf(plan);
    expect(codes(editSession(plan, first!, { moveTo: "2026-03-10" }, start))).toEqual(["session-day-taken"]);
    expect(codes(editSession(plan, first!, { moveTo: second! }, start))).toEqual(["session-day-taken"]);
    const nextWeek = datesOf(plan).find((date) => date > "2026-03-08")!;
    expect(codes(editSession(plan, nextWeek, { moveTo: "2026-03-14" }, start))).toEqual(["session-day-taken"]);
    const raced = examplePlan({ raceDate: "2026-04-11" });
    const easing = sessionsOf(raced).find((session) => session.easing)!;
    expect(codes(editSession(raced, easing.date, { moveTo: "2026-04-10" }, start))).toEqual(["session-day-taken"]);
  });

  it("what is over, unknown or stopped is refused", () => {
    const plan = examplePlan();
    const first = datesOf(plan)[0]!;
    expect(codes(editSession(plan, first, { skipped: true }, "2026-03-20"))).toEqual(["session-over"]);
    expect(codes(editSession(plan, "2026-03-01", { skipped: true }, start))).toEqual(["session-unknown"]);
    expect(codes(editSession({ ...plan, status: "stopped" }, first, { skipped: true }, start))).toEqual([
      "plan-stopped",
    ]);
  });

  it("[P5] the session that comes first begins the stage, whatever moved", () => {
    const plan = examplePlan();
    const [first, second] = datesOf(plan);
    expect(at(plan, first!)?.session.blocks.some((block) => block.kind === "standing-drill")).toBe(true);
    const edited = value(editSession(plan, first!, { skipped: true }, start));
    expect(at(edited, second!)).toMatchObject({ firstOfStage: true, cueShare: 1 });
    expect(at(edited, second!)?.session.blocks.some((block) => block.kind === "standing-drill")).toBe(true);
    const back = value(editSession(edited, first!, { skipped: false }, start));
    expect(at(back, first!)).toMatchObject({ firstOfStage: true });
    expect(at(back, second!)).toMatchObject({ firstOfStage: false });
    expect(at(back, second!)?.session.blocks.some((block) => block.kind === "standing-drill")).toBe(false);
  });

  it("[P7] in the first week of a new stage minutes may fall, not rise", () => {
    const plan = examplePlan();
    const first = sessionsOf(plan)[0]!;
    expect(codes(editSession(plan, first.date, { mainMinutes: first.mainMinutes + 1 }, start))).toEqual([
      "load-frozen",
    ]);
    expect(at(value(editSession(plan, first.date, { mainMinutes: 10 }, start)), first.date)?.mainMinutes).toBe(10);
    const kept = sessionsOf(plan).at(-1)!;
    expect(plan.stages.at(-1)?.kind).toBe("consolidation");
    expect(value(editSession(plan, kept.date, { mainMinutes: 40 }, start)).totalMinutes).toBeCloseTo(
      plan.totalMinutes - kept.mainMinutes + 40,
      9,
    );
  });

  it("takes another template, and null goes back to what was laid", () => {
    const plan = examplePlan();
    const last = sessionsOf(plan).at(-1)!;
    const edited = value(editSession(plan, last.date, { template: starterTemplates.stridesToEnd }, start));
    expect(at(edited, last.date)?.session.blocks.some((block) => block.kind === "strides")).toBe(true);
    const back = value(editSession(edited, last.date, null, start));
    expect(back.stages).toEqual(plan.stages);
    expect(back.request.sessionEdits).toEqual([]);
  });

  it("is kept when a decision or a new calendar lays the plan again", () => {
    const plan = examplePlan();
    const late = sessionsOf(plan).find((session) => session.date > "2026-03-23")!;
    const edited = value(editSession(plan, late.date, { mainMinutes: 8, cueShare: 0.25 }, start));
    const relaid = value(changeCalendar(edited, { consolidationWeeks: 3 }, "2026-03-03"));
    expect(at(relaid, late.date)).toMatchObject({ mainMinutes: 8, cueShare: 0.25, editedFrom: late.date });
    const decision = decide({ plan: edited, rung: 0, nextWeekOn: "2026-03-09" }, goodWeek());
    expect(at(adaptPlan(edited, decision, { on: "2026-03-08" }), late.date)).toMatchObject({ mainMinutes: 8 });
  });

  it("gives way where its new day is taken by what was laid", () => {
    const plan = examplePlan();
    const [first, second] = sessionsOf(plan);
    const sessionEdits = [{ on: first!.date, moveTo: second!.date, mainMinutes: 7, laid: first! }];
    const laid = examplePlan({ sessionEdits });
    expect(datesOf(laid)).toEqual(datesOf(plan));
    expect(at(laid, first!.date)?.mainMinutes).toBe(7);
  });

  it("two sessions changing places do not swallow each other", () => {
    const plan = examplePlan();
    const [first, second] = datesOf(plan);
    const away = value(editSession(plan, first!, { moveTo: "2026-03-04" }, start));
    const swapped = value(editSession(away, second!, { moveTo: first! }, start));
    expect(sessionsOf(swapped).length).toBe(sessionsOf(plan).length);
    expect(codes(editSession(swapped, "2026-03-04", null, start))).toEqual(["session-day-taken"]);
    const shorter = value(editSession(swapped, "2026-03-04", { mainMinutes: 6 }, start));
    expect(sessionsOf(shorter).length).toBe(sessionsOf(plan).length);
    expect(at(shorter, "2026-03-04")?.mainMinutes).toBe(6);
  });

  it("property: no row of edits doubles a day, leaves the stage, or raises a target", () => {
    const plan = examplePlan();
    const day = fc
      .integer({ min: 0, max: 27 })
      .map((n) => new Date(Date.UTC(2026, 2, 2 + n)).toISOString().slice(0, 10));
    const change: fc.Arbitrary<SessionChange | null> = fc.oneof(
      fc.constant(null),
      day.map((moveTo) => ({ moveTo })),
      fc.boolean().map((skipped) => ({ skipped })),
      fc.integer({ min: 1, max: 60 }).map((mainMinutes) => ({ mainMinutes })),
      fc.double({ min: 0, max: 1, noNaN: true }).map((cueShare) => ({ cueShare })),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(day, change), { maxLength: 12 }), (edits) => {
        let now = plan;
        for (const [date, wish] of edits) {
          const result = editSession(now, date, wish, start);
          if (result.ok) now = result.value;
        }
        const dates = datesOf(now);
        expect(new Set(dates).size).toBe(dates.length);
        for (const [index, stage] of now.stages.entries()) {
          expect(stage.stepRateSpm).toBe(plan.stages[index]?.stepRateSpm);
          expect(stage.sessions.filter((session) => session.firstOfStage).length).toBeLessThanOrEqual(1);
          for (const session of stage.sessions) {
            expect(session.date >= stage.startsOn && session.date <= stage.endsOn).toBe(true);
            for (const block of session.session.blocks)
              expect(block.stepRateSpm ?? 0).toBeLessThanOrEqual(stage.stepRateSpm);
          }
        }
      }),
      { seed: 20_261_125, numRuns: 150 },
    );
  });
});

describe("editing the target of a stage", () => {
  it("[P1] moves the stage and those after it; a step above 2.5 % of the baseline is refused", () => {
    const plan = examplePlan();
    expect(plan.rungsSpm).toEqual([162, 164, 166, 168, 170]);
    const lower = value(editRung(plan, 2, 165, start));
    expect(lower.rungsSpm).toEqual([162, 164, 165, 167, 169]);
    expect(lower.aimSpm).toBe(169);
    expect(lower.stages[0]).toEqual(plan.stages[0]);
    // 2.5 % of 160 is 4 spm.
    expect(codes(editRung(plan, 2, 168.5, start))).toEqual(["stage-step"]);
    expect(value(editRung(plan, 2, 168, start)).rungsSpm).toEqual([162, 164, 168, 170, 172]);
    expect(codes(editRung(plan, 2, 165.2, start))).toEqual(["stage-step"]);
    expect(codes(editRung(plan, 2, 164, start))).toEqual(["stage-step"]);
  });

  it("[T4] never passes the cap: stages above it fall away", () => {
    const plan = examplePlan({}, { coachGoalSpm: 170 });
    const raised = value(editRung(value(editRung(value(editRung(plan, 1, 166, start)), 2, 170, start)), 3, 174, start));
    expect(raised.capSpm).toBe(176);
    expect(raised.rungsSpm).toEqual([162, 166, 170, 174, 176]);
    expect(value(editRung(raised, 4, 175, start)).rungsSpm.at(-1)).toBe(175);
    expect(codes(editRung(raised, 4, 177, start))).toEqual(["stage-step"]);
    const wide = value(editRung(value(editRung(value(editRung(plan, 1, 166, start)), 2, 170, start)), 4, 176, start));
    expect(wide.rungsSpm).toEqual([162, 166, 170, 172, 176]);
    expect(value(editRung(wide, 3, 174, start)).rungsSpm).toEqual([162, 166, 170, 174]);
  });

  it("[T5] after bone trouble a stage keeps its half size", () => {
    const plan = examplePlan({}, { history: ["bone"] });
    const [, second] = plan.rungsSpm;
    expect(codes(editRung(plan, 1, second! + 0.5, start))).toEqual(["stage-step"]);
    expect(editRung(plan, 1, second! - 0.5, start).ok).toBe(true);
  });

  it("[P12] a stage that has begun, or a study's, is not changed by hand", () => {
    expect(codes(editRung(examplePlan(), 0, 161, "2026-03-04"))).toEqual(["stage-fixed"]);
    expect(codes(editRung(examplePlan({ protocolId: "willy-2016" }), 0, 165, "2026-02-20"))).toEqual(["stage-fixed"]);
  });
});
