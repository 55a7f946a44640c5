// The little of a plan that judging a week needs: a hundredth of the plan with all its sessions.
import type { Proposal } from "../target/proposal.ts";
import type { Plan, PlanRequest, PlannedSession, PlanStage } from "./plan.ts";

export interface PlanOutline extends Pick<Plan, "status" | "baselineSpm" | "speedMps" | "rungsSpm"> {
  readonly request: Pick<PlanRequest, "protocolId" | "raceDate" | "settings"> & {
    readonly proposal: Pick<Proposal, "careful">;
  };
  readonly stages: readonly (Pick<PlanStage, "index" | "rung" | "kind" | "stepRateSpm" | "startsOn"> & {
    readonly sessions: readonly Pick<PlannedSession, "date">[];
  })[];
}

/** Every plan is an outline already; this leaves the rest out, for keeping beside it. */
export function outlineOf(plan: Plan): PlanOutline {
  const { status, baselineSpm, speedMps, rungsSpm, request, stages } = plan;
  return {
    status,
    baselineSpm,
    speedMps,
    rungsSpm,
    request: {
      proposal: { careful: request.proposal.careful },
      ...(request.protocolId === undefined ? {} : { protocolId: request.protocolId }),
      ...(request.raceDate === undefined ? {} : { raceDate: request.raceDate }),
      ...(request.settings === undefined ? {} : { settings: request.settings }),
    },
    stages: stages.map(({ index, rung, kind, stepRateSpm, startsOn, sessions }) => ({
      index,
      rung,
      kind,
      stepRateSpm,
      startsOn,
      sessions: sessions.map(({ date }) => ({ date })),
    })),
  };
}
