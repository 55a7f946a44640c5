// Which rung follows from an action. Rungs never pass the ladder's end, and the ladder never passes the cap.
import type { DecisionAction } from "./decision.ts";
import type { Plan } from "./plan.ts";

export function nextAfter(
  action: DecisionAction,
  plan: Pick<Plan, "rungsSpm" | "baselineSpm">,
  rung: number,
): { readonly nextStageIndex?: number; readonly nextStepRateSpm?: number } {
  if (action === "stop-and-refer") return {};
  const count = plan.rungsSpm.length;
  // Consolidation runs at the last rung, so a step back from it is the rung before; back from the first is the baseline.
  const next =
    action === "move-on"
      ? Math.min(rung + 1, count)
      : action === "ease-back"
        ? Math.max(-1, Math.min(rung, count - 1) - 1)
        : rung;
  return { nextStageIndex: next, nextStepRateSpm: rungRateSpm(plan, next) };
}

/** Target of a rung: the baseline for −1, the last rung for consolidation. */
export function rungRateSpm(plan: Pick<Plan, "rungsSpm" | "baselineSpm">, rung: number): number {
  return rung < 0 ? plan.baselineSpm : (plan.rungsSpm[Math.min(rung, plan.rungsSpm.length - 1)] ?? plan.baselineSpm);
}
