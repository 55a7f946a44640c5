// What is computed of a runner and kept: shapes only.
import type { BaselineAnswer, ComparisonAnswer } from "../../api/index.ts";
import type { PlanOutline } from "../../engine/plan/plan-outline.ts";
import type { GroupPrior } from "../../engine/change/group-prior.ts";
import type { SpeedSplit } from "../../engine/change/speed-split.ts";
import type { Uncertain } from "../../engine/quantities/uncertain.ts";
import type { CueBlock, Surface } from "../../engine/recordings/recording.ts";
import type { RateWindow } from "../../engine/recordings/window.ts";
import type { AdviceSettings } from "../../engine/target/settings.ts";
import type { CountRow } from "../use-cases/count-rate.ts";

export interface RecordingInput {
  readonly id: string;
  readonly startedAt: string | null;
  readonly phase: "before" | "during" | "after" | "unsorted";
  readonly surface: Surface;
  readonly effortRating: number | null;
  readonly trimStartS: number;
  readonly trimEndS: number | null;
  readonly cueBlocks: readonly CueBlock[];
  readonly distanceM: number | null;
  readonly windows: readonly RateWindow[];
}

export interface EvaluationInput {
  readonly counts: readonly CountRow[];
  readonly recordings: readonly RecordingInput[];
  /** Rise that the coach accepted, both feet; null when none. */
  readonly acceptedTargetSpm: number | null;
  /** Targets of the plan by the date they begin, oldest first. */
  readonly stageTargets: readonly { readonly from: string; readonly targetSpm: number }[];
  readonly settings: AdviceSettings;
  readonly atSpeedMps?: number;
  /** What the other runners of the group lend; published values where absent. */
  readonly groupPrior?: GroupPrior;
}

/** One run as the week and the timeline need it. */
export interface RunFacts {
  readonly recordingId: string;
  readonly startedAt: string | null;
  readonly phase: RecordingInput["phase"];
  readonly surface: Surface;
  readonly speedMps: number;
  readonly stepRateSpm: number;
  readonly matchedChangeSpm: number | null;
  readonly split: SpeedSplit | null;
  readonly lateRunDropSpm: Uncertain | null;
  readonly targetSpm: number | null;
  readonly inBandShare: number | null;
  /** Mean speed with the beat on. */
  readonly cuedSpeedMps: number | null;
  /** Step rate without the beat, at the reference speed. */
  readonly cueOffSpm: number | null;
  readonly distanceM: number | null;
}

export interface RunnerState {
  readonly baseline: BaselineAnswer;
  readonly comparison: ComparisonAnswer;
  readonly referenceSpeedMps: number | null;
  readonly speedExponent: number | null;
  readonly runs: readonly RunFacts[];
}

/** The little of it that the week's list and the roster need; kept beside it so that they need not read the rest. */
export interface WeekState {
  readonly baseline: RunnerState["baseline"];
  readonly referenceSpeedMps: number | null;
  readonly speedExponent: number | null;
  readonly matchedChangeSpm: number | null;
  readonly runs: readonly Omit<RunFacts, "split" | "matchedChangeSpm">[];
  readonly plan: PlanOutline | null;
}

export function weekStateOf(state: RunnerState, plan: PlanOutline | null): WeekState {
  const { baseline, comparison, referenceSpeedMps, speedExponent } = state;
  return {
    baseline,
    referenceSpeedMps,
    speedExponent,
    matchedChangeSpm: comparison.kind === "comparison" ? comparison.matchedSpeedChangeSpm.estimate : null,
    runs: state.runs.map(({ split: _split, matchedChangeSpm: _matched, ...run }) => run),
    plan,
  };
}
