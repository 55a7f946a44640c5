// Rule D10: the coach overrules any decision, in the open. A stop-and-refer only with a typed reason, and it stays marked.
import { fail, type Result, succeed } from "../quantities/problem.ts";
import type { Decision, Override } from "./decision.ts";
import { nextAfter } from "./next-rung.ts";
import type { PlanOutline } from "./plan-outline.ts";

/** The coach's decision in place of the proposed one; both are kept. `rung` is the rung that was decided about. */
export function overrideDecision(
  decision: Decision,
  override: Override,
  state: { readonly plan: PlanOutline; readonly rung: number },
): Result<Decision> {
  if (decision.markedStop && override.action !== "stop-and-refer" && override.reason.trim().length < 3)
    return fail({
      code: "override-needs-reason",
      where: { field: "reason" },
      got: override.reason.trim() === "" ? "no reason" : override.reason,
      expected: "a reason in the coach's own words",
      remedy: "Write why the runner may go on, for example who has seen it. The mark stays.",
    });
  if (override.by.trim() === "")
    return fail({
      code: "override-needs-name",
      where: { field: "by" },
      got: "nobody",
      expected: "who decided",
      remedy: "Say who overrules.",
    });
  const { nextStageIndex: _stage, nextStepRateSpm: _rate, ...rest } = decision;
  return succeed({ ...rest, action: override.action, ...nextAfter(override.action, state.plan, state.rung), override });
}
