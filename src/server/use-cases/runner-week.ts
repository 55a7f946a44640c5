// A runner's week, and a group's: shapes only.
import type { Selectable } from "kysely";
import type { Decision } from "../../engine/plan/decision.ts";
import type { PlanOutline } from "../../engine/plan/plan-outline.ts";
import type { WeekEvidence } from "../../engine/plan/week-evidence.ts";
import type { Database, WeekReader } from "../../store/index.ts";
import type { WeekState } from "../analysis/runner-state.ts";

type RunnerOfWeek = Awaited<ReturnType<WeekReader["rows"]>>[number];

/** A runner's week with everything that a decision needs. */
export interface RunnerWeek {
  readonly runner: RunnerOfWeek;
  readonly state: WeekState | null;
  readonly plan: PlanOutline | null;
  readonly evidence: WeekEvidence | null;
  readonly proposed: Decision | null;
  readonly decided: Selectable<Database["decision"]> | undefined;
  readonly worstPain: number | null;
  readonly recordingCount: number;
  readonly sentNothing: boolean;
}

export interface GroupWeek {
  readonly startsOn: string;
  readonly number: number;
  readonly timeZone: string;
  readonly today: string;
  readonly runners: readonly RunnerWeek[];
}
