// Rules D1–D9: what to do next week. The first rule that applies decides; the coach has the last word (D10).
import { inBandMoveOnShare } from "../evidence/decisions.ts";
import { reason } from "../target/reason.ts";
import { type AdviceSettings, defaultSettings } from "../target/settings.ts";
import type { Decision } from "./decision.ts";
import {
  easeBackOnPain,
  faster,
  lateDrop,
  longRun,
  missedTooLong,
  nothingMeasured,
  offTheBeat,
  stopAndRefer,
} from "./holding-rules.ts";
import { moveOn } from "./move-on.ts";
import { nextAfter } from "./next-rung.ts";
import type { PlanState, Rule, Verdict } from "./verdict.ts";
import type { WeekEvidence } from "./week-evidence.ts";

export type { PlanState } from "./verdict.ts";

/**
 * The proposed decision for one runner's week, with its reasons. Pure: the same plan, evidence and settings give the
 * same decision. What was not measured is never held for good: a runner moves on only when the band, the speed and the
 * absence of pain are known.
 */
export function decide(
  state: PlanState,
  evidence: WeekEvidence,
  settings: AdviceSettings = state.plan.request.settings ?? defaultSettings,
): Decision {
  check(state, evidence);
  const verdict = rules.reduce<Verdict | null>((found, rule) => found ?? rule(evidence, state, settings), null);
  const { action, rule, reasons, question, recheckAfterHours } = verdict ?? otherwise();
  return {
    action,
    proposedAction: action,
    rule,
    reasons,
    ...nextAfter(action, state.plan, state.rung),
    ...(question === undefined ? {} : { question }),
    ...(recheckAfterHours === undefined ? {} : { recheckAfterHours }),
    markedStop: action === "stop-and-refer",
  };
}

function check(state: PlanState, evidence: WeekEvidence): void {
  const { rung, plan } = state;
  if (!(Number.isInteger(rung) && rung >= -1 && rung <= plan.rungsSpm.length))
    throw new RangeError(`decide: rung must be −1 to ${plan.rungsSpm.length}, got ${rung}`);
  const pain = evidence.pain?.worst0to10 ?? 0;
  if (!(pain >= 0 && pain <= 10)) throw new RangeError(`decide: worst0to10 must be 0 to 10, got ${pain}`);
  for (const { inBandShare } of evidence.cuedSessions) {
    if (!(inBandShare >= 0 && inBandShare <= 1))
      throw new RangeError(`decide: inBandShare must be 0 to 1, got ${inBandShare}`);
  }
}

const rules: readonly Rule[] = [
  stopAndRefer,
  easeBackOnPain,
  missedTooLong,
  longRun,
  nothingMeasured,
  faster,
  lateDrop,
  offTheBeat,
  moveOn,
];

function otherwise(): Verdict {
  return {
    action: "stay",
    rule: "D9",
    reasons: [reason("D9", "Not held yet and nothing speaks against it: the same stage once more.", inBandMoveOnShare)],
  };
}
