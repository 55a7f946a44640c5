// Invented runners and requests for tests of plans and decisions.
import type { Baseline } from "../../src/engine/baseline/baseline.ts";
import { makePlan } from "../../src/engine/plan/make-plan.ts";
import type { Plan, PlannedSession, PlanRequest } from "../../src/engine/plan/plan.ts";
import type { WeekEvidence } from "../../src/engine/plan/week-evidence.ts";
import { type ProposalInput, proposeChange } from "../../src/engine/target/propose.ts";

export function exampleBaseline(stepRateSpm: number, speedMps = 2.8): Baseline {
  return {
    stepRateSpm: {
      estimate: stepRateSpm,
      standardError: 1,
      interval95: { low: stepRateSpm - 2, high: stepRateSpm + 2 },
      sampleCount: 2,
      method: "counted for a minute, twice",
    },
    speedMps,
    surface: "outdoor",
  };
}

export function exampleRequest(
  changes: Partial<PlanRequest> = {},
  proposalInput: Partial<ProposalInput> = {},
): PlanRequest {
  return {
    proposal: proposeChange({ baseline: exampleBaseline(160), ...proposalInput }),
    startDate: "2026-03-02",
    groupWeekday: 2,
    ...changes,
  };
}

/** Baseline 160 at 2.8 m/s, five stages to 170, from Monday 2 March 2026, group on Tuesday. */
export function examplePlan(changes: Partial<PlanRequest> = {}, proposalInput: Partial<ProposalInput> = {}): Plan {
  const result = makePlan(exampleRequest(changes, proposalInput));
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

/** A week in which everything went well. */
export function goodWeek(changes: Partial<WeekEvidence> = {}): WeekEvidence {
  return {
    pain: { worst0to10: 0 },
    calfAchillesAsked: true,
    sessionsPlanned: 3,
    sessionsDone: 3,
    cuedSessions: [{ inBandShare: 0.85 }, { inBandShare: 0.9 }, { inBandShare: 0.95 }],
    speedChangeShare: 0.01,
    lateDropShare: 0.01,
    carryOverShare: 0.6,
    ...changes,
  };
}

export function sessionsOf(plan: Plan): readonly PlannedSession[] {
  return plan.stages.flatMap((stage) => stage.sessions);
}

/** Target on each session date. */
export function targetsByDate(plan: Plan): Map<string, number> {
  return new Map(plan.stages.flatMap((stage) => stage.sessions.map((session) => [session.date, stage.stepRateSpm])));
}
