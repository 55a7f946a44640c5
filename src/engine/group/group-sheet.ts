// One sheet for the evening: who runs to which beat, for how long, and who is missing from it.
import type { AdviceSettings } from "../target/settings.ts";
import type { Plan, PlainDateText } from "../plan/plan.ts";
import { type Lanes, type LaneOptions, makeLanes } from "./lanes.ts";

export interface SheetRunner {
  readonly id: string;
  readonly name: string;
  /** Absent when the runner has no plan yet. */
  readonly plan?: Plan;
}

export interface SheetRow {
  readonly id: string;
  readonly name: string;
  readonly stepRateSpm: number;
  /** 1-based lane; absent when no lane serves the runner. */
  readonly laneNumber?: number;
  readonly beatSpm?: number;
  readonly mainMinutes: number;
  readonly cueShare: number;
  readonly firstOfStage: boolean;
}

export interface GroupSheet {
  readonly date: PlainDateText;
  readonly lanes: Lanes;
  /** By lane, then name. */
  readonly rows: readonly SheetRow[];
  /** No session on this date, with the reason. */
  readonly without: readonly {
    readonly id: string;
    readonly name: string;
    readonly why: "no-plan" | "stopped" | "no-session";
  }[];
}

export function makeGroupSheet(
  runners: readonly SheetRunner[],
  date: PlainDateText,
  options: LaneOptions & { readonly settings?: AdviceSettings } = {},
): GroupSheet {
  const rows: SheetRow[] = [];
  const without: GroupSheet["without"][number][] = [];
  const forLanes: { id: string; targetSpm: number; capSpm: number; speedMps?: number }[] = [];
  for (const { id, name, plan } of runners) {
    const stage = plan?.stages.find((entry) => entry.sessions.some((session) => session.date === date));
    const planned = stage?.sessions.find((session) => session.date === date);
    if (plan === undefined || stage === undefined || planned === undefined) {
      without.push({
        id,
        name,
        why: plan === undefined ? "no-plan" : plan.status === "stopped" ? "stopped" : "no-session",
      });
      continue;
    }
    // A week at the baseline is run without a beat, so no lane is sought for it.
    if (stage.rung >= 0)
      forLanes.push({
        id,
        targetSpm: stage.stepRateSpm,
        capSpm: plan.capSpm,
        ...(plan.speedMps === null ? {} : { speedMps: plan.speedMps }),
      });
    rows.push({
      id,
      name,
      stepRateSpm: stage.stepRateSpm,
      mainMinutes: planned.mainMinutes,
      cueShare: planned.cueShare,
      firstOfStage: planned.firstOfStage,
    });
  }
  const lanes = makeLanes(forLanes, { ...options, inTenths: true });
  const placed = rows.map((row): SheetRow => {
    const index = lanes.lanes.findIndex((lane) => lane.members.some((member) => member.id === row.id));
    const lane = lanes.lanes[index];
    return lane === undefined ? row : { ...row, laneNumber: index + 1, beatSpm: lane.beatSpm };
  });
  return {
    date,
    lanes,
    rows: placed.sort(
      (a, b) => (a.laneNumber ?? Infinity) - (b.laneNumber ?? Infinity) || a.name.localeCompare(b.name, "en"),
    ),
    without,
  };
}
