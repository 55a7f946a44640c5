// What a runner is told to do next. Never "run on" to someone who was stopped, referred or not yet looked at.
import type { Plan, ProposalAnswer } from "../../api/index.ts";

export type WhatNow =
  | { readonly kind: "run"; readonly stepRateSpm: number }
  | { readonly kind: "alone" | "refer" | "measure" | "wait" };

export function whatNow(plan: Plan | undefined, proposal: ProposalAnswer | undefined): WhatNow {
  const computed = proposal?.computed.advice;
  if (plan?.status === "stopped" || computed === "refer" || proposal?.accepted?.advice === "refer")
    return { kind: "refer" };
  const stage = plan?.stages[plan.currentStageIndex];
  if (stage) return { kind: "run", stepRateSpm: stage.stepRateSpm };
  if (proposal?.accepted?.advice === "leave-alone") return { kind: "alone" };
  return { kind: computed === "measure-first" ? "measure" : "wait" };
}
