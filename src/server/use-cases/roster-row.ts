import type { RosterRow as RosterRowShape } from "../../api/index.ts";
import type { RosterRow } from "../../store/index.ts";
import type { RunnerState } from "../analysis/runner-state.ts";
import { json, presentRunner } from "./present.ts";

export function presentRosterRow(row: RosterRow): RosterRowShape {
  const baseline = row.stateJson === null ? null : json<RunnerState>(row.stateJson).baseline;
  const known = baseline?.kind === "baseline" ? baseline : null;
  return {
    runner: presentRunner(row),
    baselineSpm: known?.stepRateSpm ?? null,
    baselineSpeedMps: known?.speedMps ?? null,
    advice: row.advice,
    accepted: row.advice !== null,
    targetSpm: row.stopped === 1 ? null : row.currentSpm,
    stageIndex: row.currentStageIndex,
    stageCount: row.stageCount,
    lastCountAt: row.lastCountAt,
    lastRecordingAt: row.lastRecordingAt,
    recordingCount: Number(row.recordingCount),
    latestPain: row.latestPain,
    finding: row.finding,
  };
}
