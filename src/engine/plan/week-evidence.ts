// What is known of a runner's week when a decision is made. Everything that was not asked or measured is absent.
import type { RedFlag } from "../target/red-flags.ts";

export type PainPlace = "calf" | "achilles" | "shin" | "foot" | "knee" | "hip" | "back" | "elsewhere";

export interface PainReport {
  /** Worst of the week, 0–10; 0 when nothing hurt. */
  readonly worst0to10: number;
  readonly where?: PainPlace;
  readonly redFlags?: readonly RedFlag[];
}

export interface CuedSessionEvidence {
  /** Share of the time with the beat inside the band, 0–1. */
  readonly inBandShare: number;
}

export interface WeekEvidence {
  /** Absent when nobody asked. */
  readonly pain?: PainReport;
  /** T5: were calf and Achilles asked about by name? */
  readonly calfAchillesAsked?: boolean;
  readonly sessionsPlanned: number;
  /** Beat sessions run, whether measured or not. */
  readonly sessionsDone: number;
  /** Beat sessions run in this stage so far, this week's among them; this week's when absent. */
  readonly stageSessionsDone?: number;
  /** Whole days of this stage so far; a week when absent. */
  readonly stageDaysDone?: number;
  /** Weeks in a row without a session up to and with this one; 0 or 1 by sessionsDone when absent. */
  readonly missedWeeksInRow?: number;
  /** Beat sessions of this stage that were measured, in order, the last one last. */
  readonly cuedSessions: readonly CuedSessionEvidence[];
  /** How many of those are this week's; all when absent. */
  readonly measuredThisWeek?: number;
  /** A run or count without the beat was measured this week. */
  readonly otherMeasured?: boolean;
  /** (Speed − the plan's speed) / the plan's speed over the beat sessions: above 0 when faster. */
  readonly speedChangeShare?: number;
  /** Fall of the speed-adjusted step rate from first to last third, as a share: above 0 when it fell. */
  readonly lateDropShare?: number;
  /** The most this runner's rate usually falls, measurement noise included. */
  readonly usualLateDropShare?: number;
  /** Beat off: how much of the cued rise was left, 0 back at baseline, 1 all of it. */
  readonly carryOverShare?: number;
  /** Longest single run of the week, and longest of the 30 days before it. */
  readonly longestRunM?: number;
  readonly longestBefore30DaysM?: number;
}
