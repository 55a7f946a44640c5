// A plan as data: dated stages with their sessions, and everything needed to lay the rest of it again.
import type { SessionTemplate } from "../session/template.ts";
import type { Session } from "../session/session.ts";
import type { Proposal } from "../target/proposal.ts";
import type { Reason } from "../target/reason.ts";
import type { AdviceSettings } from "../target/settings.ts";
import type { DisplayUnits } from "../quantities/display.ts";
import type { Decision } from "./decision.ts";
import type { CueSchedule, MinutesSchedule } from "./schedule.ts";

/** Plain dates are ISO text, "2026-03-02": no time, no zone. */
export type PlainDateText = string;

export interface DateRange {
  readonly from: PlainDateText;
  /** Inclusive. */
  readonly to: PlainDateText;
}

export interface PlanRequest {
  /** Advice "change"; a coach's own aim goes in through setAim. */
  readonly proposal: Proposal;
  readonly startDate: PlainDateText;
  /** 1 Monday to 7 Sunday: the evening of the group. */
  readonly groupWeekday?: number;
  readonly sessionsPerWeek?: number;
  /** The runner's own away weeks. */
  readonly away?: readonly DateRange[];
  /** Holidays of the whole group. */
  readonly groupAway?: readonly DateRange[];
  readonly raceDate?: PlainDateText;
  /** Id of a published protocol; the ladder of small stages when absent. */
  readonly protocolId?: string;
  readonly minutesStart?: number;
  readonly minutesEnd?: number;
  readonly consolidationWeeks?: number;
  /** How the beat fades; over the last half of the sessions when absent. */
  readonly cueSchedule?: CueSchedule;
  readonly minutesSchedule?: MinutesSchedule;
  readonly template?: SessionTemplate;
  readonly groupTemplate?: SessionTemplate;
  readonly settings?: AdviceSettings;
  readonly units?: DisplayUnits;
  /** What the coach changed by hand; kept when the plan is laid again. */
  readonly sessionEdits?: readonly SessionEdit[];
}

/** One session changed by hand. */
export interface SessionEdit {
  /** The date it was laid on. */
  readonly on: PlainDateText;
  readonly moveTo?: PlainDateText;
  /** Taken out: not run, and not caught up. */
  readonly skipped?: boolean;
  readonly mainMinutes?: number;
  /** Share of the main part with the beat on, 0–1. */
  readonly cueShare?: number;
  readonly template?: SessionTemplate;
  /** As it was laid, to go back to. */
  readonly laid: PlannedSession;
}

export interface PlannedSession {
  /** Unique in the plan: its date. */
  readonly date: PlainDateText;
  readonly kind: "cued" | "recall-check";
  /** With the group on its evening, or on the runner's own. */
  readonly place: "group" | "own";
  readonly session: Session;
  /** Minutes of the main part. */
  readonly mainMinutes: number;
  /** Share of the main part with the beat on. */
  readonly cueShare: number;
  readonly cuedMinutes: number;
  readonly firstOfStage: boolean;
  /** Shortened for a race (P9). */
  readonly easing: boolean;
  /** Changed by the coach; the date it was laid on. */
  readonly editedFrom?: PlainDateText;
}

export type StageKind =
  /** A new, higher target. */
  | "step-up"
  /** The same target once more. */
  | "repeat"
  /** A lower target than before. */
  | "step-back"
  /** Waiting for a race to pass (P9). */
  | "race-hold"
  | "consolidation";

export interface PlanStage {
  /** Place in the plan, from 0. */
  readonly index: number;
  /** Rung of the ladder, from 0; the last rung again in consolidation, −1 at the baseline without the beat. */
  readonly rung: number;
  readonly kind: StageKind;
  /** Target, both feet, at the plan's speed. */
  readonly stepRateSpm: number;
  readonly startsOn: PlainDateText;
  readonly endsOn: PlainDateText;
  readonly sessions: readonly PlannedSession[];
  /** P7: no rise of distance or intensity in the first week of a new stage; until when. */
  readonly loadFrozenUntil?: PlainDateText;
}

export interface DatedDecision {
  readonly on: PlainDateText;
  readonly decision: Decision;
}

export interface Plan {
  readonly request: PlanRequest;
  readonly status: "running" | "stopped";
  readonly baselineSpm: number;
  readonly aimSpm: number;
  /** No stage is ever above it. */
  readonly capSpm: number;
  readonly speedMps: number | null;
  /** Target of each rung, both feet, rising. */
  readonly rungsSpm: readonly number[];
  readonly stages: readonly PlanStage[];
  readonly recallChecks: readonly PlannedSession[];
  /** Weeks, by their first day, in which no session could be placed. */
  readonly missedWeeks: readonly PlainDateText[];
  /** Main and cued minutes over all sessions. */
  readonly totalMinutes: number;
  readonly totalCuedMinutes: number;
  readonly reasons: readonly Reason[];
  readonly cautions: readonly string[];
  readonly decisions: readonly DatedDecision[];
}
