// A weekly decision as data: what is proposed, why, and what the coach made of it.
import type { Reason } from "../target/reason.ts";

export type DecisionAction = "move-on" | "stay" | "ease-back" | "stop-and-refer";

/** D10: the coach's own decision, kept beside the proposed one. */
export interface Override {
  readonly by: string;
  /** ISO date or date-time, as the caller's clock gave it. */
  readonly at: string;
  readonly action: DecisionAction;
  readonly reason: string;
}

export interface Decision {
  /** What holds: the proposal's action, or the coach's when overruled. */
  readonly action: DecisionAction;
  /** What the rules proposed; the same as `action` unless overruled. */
  readonly proposedAction: DecisionAction;
  /** The first rule that applied: "D1" … "D9", or "P2", "P8", "P9" where a plan rule held the stage. */
  readonly rule: string;
  readonly reasons: readonly Reason[];
  /** Rung to run next, from 0; −1 is a week at the baseline without the beat, the number of rungs is consolidation. Absent when stopped. */
  readonly nextStageIndex?: number;
  /** Both feet; absent when stopped. */
  readonly nextStepRateSpm?: number;
  /** What the coach should ask or measure, when something is missing. */
  readonly question?: string;
  /** D2: ask about pain again after so many hours. */
  readonly recheckAfterHours?: number;
  readonly override?: Override;
  /** D10: a stop-and-refer that the coach overruled stays marked for good. */
  readonly markedStop: boolean;
}
