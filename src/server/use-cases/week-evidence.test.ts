import { describe, expect, test } from "vitest";
import { makePlan } from "../../engine/plan/make-plan.ts";
import { proposeChange } from "../../engine/target/propose.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import type { RunFacts } from "../analysis/runner-state.ts";
import { inBandOfWeek, weekEvidence, type WeekFacts } from "./week-evidence.ts";

const sure = (estimate: number) => ({
  estimate,
  standardError: 0.5,
  interval95: { low: estimate - 1, high: estimate + 1 },
  sampleCount: 1,
  method: "test",
});
const plan = (() => {
  const proposal = proposeChange({ baseline: { stepRateSpm: sure(160), speedMps: 2.5, surface: "outdoor" } });
  const made = makePlan({ proposal, startDate: "2026-03-02", groupWeekday: 4, sessionsPerWeek: 3 });
  if (!made.ok) throw new Error("no plan");
  return made.value;
})();
const run = (day: string, more: Partial<RunFacts> = {}): RunFacts => ({
  recordingId: day,
  startedAt: `${day}T17:30:00.000Z`,
  phase: "during",
  surface: "outdoor",
  speedMps: 2.5,
  stepRateSpm: 160,
  matchedChangeSpm: null,
  split: null,
  lateRunDropSpm: null,
  targetSpm: 164,
  inBandShare: 0.9,
  cuedSpeedMps: 2.5,
  cueOffSpm: null,
  distanceM: 4000,
  ...more,
});
const facts = (runs: readonly RunFacts[], more: Partial<WeekFacts> = {}): WeekFacts => ({
  plan,
  state: { runs, referenceSpeedMps: 2.5 },
  weekStartsOn: "2026-03-09",
  timeZone: "UTC",
  pain: [],
  counts: [],
  doneDays: [],
  ...more,
});

describe("a week's evidence", () => {
  test("closed form: shares, signs and units", () => {
    const evidence = weekEvidence(
      facts([
        run("2026-03-10", { cuedSpeedMps: 2.6, lateRunDropSpm: sure(-3.2), cueOffSpm: 163, distanceM: 9000 }),
        run("2026-03-12", { inBandShare: 0.7, cuedSpeedMps: 2.6, lateRunDropSpm: sure(-3.2), cueOffSpm: 163 }),
        run("2026-02-20", { phase: "during", distanceM: 8000 }),
      ]),
    );
    const exact = { rtol: 1e-12, because: "plain arithmetic" };
    expectClose(evidence.speedChangeShare ?? NaN, 2.6 / 2.5 - 1, exact);
    // It fell by 3.2 of 160: a share above 0.
    expectClose(evidence.lateDropShare ?? NaN, 0.02, exact);
    expectClose(evidence.carryOverShare ?? NaN, (163 - plan.baselineSpm) / (164 - plan.baselineSpm), exact);
    expectClose(inBandOfWeek(evidence) ?? NaN, 0.8, exact);
    expect(evidence).toMatchObject({
      longestRunM: 9000,
      longestBefore30DaysM: 8000,
      measuredThisWeek: 2,
      sessionsDone: 2,
    });
  });

  test("runs before the programme and of other weeks are not this week's", () => {
    const evidence = weekEvidence(
      facts([run("2026-03-10", { phase: "before" }), run("2026-03-03"), run("2026-03-16")]),
    );
    expect(evidence).toMatchObject({ measuredThisWeek: 0, sessionsDone: 0 });
    expect(inBandOfWeek(evidence)).toBeNull();
    expect(evidence.speedChangeShare).toBeUndefined();
  });

  test("a session is counted once, whether it was recorded, reported or both", () => {
    const evidence = weekEvidence(facts([run("2026-03-10")], { doneDays: ["2026-03-10", "2026-03-12"] }));
    expect(evidence.sessionsDone).toBe(2);
  });

  test("missed weeks in a row are counted back to the last one with a session", () => {
    expect(weekEvidence(facts([])).missedWeeksInRow).toBe(2);
    expect(weekEvidence(facts([run("2026-03-04")])).missedWeeksInRow).toBe(1);
    expect(weekEvidence(facts([run("2026-03-10")])).missedWeeksInRow).toBe(0);
  });

  test("the worst pain of the week counts, with every sign that was named", () => {
    const pain = (score: number, place: string, signs: string[]) => ({
      id: place,
      runnerId: "r",
      score,
      place,
      signsJson: JSON.stringify(signs),
      at: "2026-03-10T08:00:00.000Z",
      note: "",
      enteredBy: "coach" as const,
    });
    const evidence = weekEvidence(
      facts([], { pain: [pain(2, "left calf", []), pain(4, "shin, inside", ["bone-spot"])] }),
    );
    expect(evidence.pain).toEqual({ worst0to10: 4, where: "shin", redFlags: ["bone-spot"] });
    expect(evidence.calfAchillesAsked).toBe(true);
    expect(weekEvidence(facts([])).pain).toBeUndefined();
  });

  test("what a runner usually loses comes from the runs before, noise included", () => {
    const before = run("2026-02-20", { phase: "before", lateRunDropSpm: sure(-1.6) });
    expectClose(weekEvidence(facts([before])).usualLateDropShare ?? NaN, (1.6 + 2 * 0.5) / 160, {
      rtol: 1e-12,
      because: "plain arithmetic",
    });
  });
});
