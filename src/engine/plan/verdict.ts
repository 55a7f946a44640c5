// What a decision rule answers, and the readings of a week that several rules share.
import type { Reason } from "../target/reason.ts";
import type { AdviceSettings } from "../target/settings.ts";
import type { DecisionAction } from "./decision.ts";
import type { PlainDateText } from "./plan.ts";
import type { PlanOutline } from "./plan-outline.ts";
import type { WeekEvidence } from "./week-evidence.ts";

export interface PlanState {
  readonly plan: PlanOutline;
  /** Rung that the runner is on, from 0; −1 at the baseline, the number of rungs in consolidation. */
  readonly rung: number;
  /** The first day that the decision is for: the start of next week. */
  readonly nextWeekOn: PlainDateText;
}

export interface Verdict {
  readonly action: DecisionAction;
  readonly rule: string;
  readonly reasons: readonly Reason[];
  readonly question?: string;
  readonly recheckAfterHours?: number;
}

/** Null when the rule does not apply. */
export type Rule = (evidence: WeekEvidence, state: PlanState, settings: AdviceSettings) => Verdict | null;

/** Mean over this week's measured sessions; null when there are none. */
export function inBand(evidence: WeekEvidence): number | null {
  const count = evidence.measuredThisWeek ?? evidence.cuedSessions.length;
  const week = count > 0 ? evidence.cuedSessions.slice(-count) : [];
  if (week.length === 0) return null;
  return week.reduce((total, session) => total + session.inBandShare, 0) / week.length;
}

/** Weeks in a row without a session, up to and with this one. */
export function missedWeeks(evidence: WeekEvidence): number {
  return evidence.missedWeeksInRow ?? (evidence.sessionsDone === 0 && evidence.sessionsPlanned > 0 ? 1 : 0);
}
