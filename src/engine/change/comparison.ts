// What a comparison of runs before and after says. Everything that is shown to a coach about proof comes from here.
import type { Warning } from "../quantities/problem.ts";
import type { Interval, NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { SequentialVerdict } from "./sequential-decision.ts";
import type { SpeedSplit } from "./speed-split.ts";

export type Finding = "changed" | "both" | "faster-only" | "dropped" | "no-change" | "not-enough-evidence";

/** How much an answer leaned on published or group values instead of the runner's own runs. */
export interface Shrinkage {
  /** Exponent that was used, and the share of its precision that came from the prior (0: all own, 1: all borrowed). */
  readonly speedExponent: { readonly estimate: number; readonly standardError: number; readonly priorShare: number };
  /** Day-to-day spread in percent, and the share of its uncertainty that the runs could not remove. */
  readonly dayToDaySdPercent: { readonly estimate: number; readonly interval95: Interval; readonly priorShare: number };
  /** How much the slope over speed differs from run to run (SD of the exponent); 0 where the runs do not show that it does. */
  readonly slopeBetweenRunsSd: number | NotEnough;
  /** Where the prior came from. */
  readonly priorFrom: "published" | "group";
}

/** Do the speeds before and after meet? */
export interface Overlap {
  readonly beforeMps: Interval;
  readonly afterMps: Interval;
  /** Speeds that both sides ran; null when there are none. */
  readonly commonMps: Interval | null;
  /** Share of all steady minutes at common speeds, 0–1. */
  readonly commonShare: number;
  /** True when the comparison rests on the assumed slope of step rate over speed. */
  readonly leansOnSlope: boolean;
}

export interface FieldPoint {
  readonly speedMps: number;
  readonly stepRateSpm: number;
}

/** One side of the before/after field: the fitted line over speed, a point per run and a point per minute. */
export interface FieldLine {
  readonly line: readonly FieldPoint[];
  readonly runs: readonly (FieldPoint & { readonly runId: string })[];
  readonly minutes: readonly FieldPoint[];
}

export interface RunsStillNeeded {
  /** More runs in all. */
  readonly total: number;
  readonly before: number;
  readonly after: number;
}

export interface Comparison {
  readonly referenceSpeedMps: number;
  /** Fitted step rates at the reference speed, both feet. */
  readonly beforeSpm: number;
  readonly afterSpm: number;
  /** After minus before at the reference speed, spm of both feet. */
  readonly matchedSpeedChangeSpm: Uncertain;
  readonly matchedSpeedChangePercent: Uncertain;
  /** Plain difference of the mean step rates, speed left out of account. */
  readonly rawChangeSpm: number;
  readonly speedChangePercent: number;
  readonly split: SpeedSplit;
  readonly finding: Finding;
  /** For a 95 % half-width of 2 spm and at least two runs a side. */
  readonly runsStillNeeded: RunsStillNeeded | NotEnough;
  /** What may be said although one looks after every run; the interval above holds for a single look. */
  readonly everyLook: SequentialVerdict;
  /** Last third minus first third of the steady part at the same speed; negative when the step rate fell. */
  readonly lateRunDropSpm: { readonly before: Uncertain | NotEnough; readonly after: Uncertain | NotEnough };
  readonly shrinkage: Shrinkage;
  readonly overlap: Overlap;
  readonly beforeLine: FieldLine;
  readonly afterLine: FieldLine;
  readonly runCount: { readonly before: number; readonly after: number };
  /** One plain sentence for the coach. */
  readonly sentence: string;
  readonly warnings: readonly Warning[];
}
