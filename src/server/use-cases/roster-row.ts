import type { RosterRow as RosterRowShape } from "../../api/index.ts";
import type { Reading, RosterRow } from "../../store/index.ts";
import type { WeekState } from "../analysis/runner-state.ts";
import { json, presentRunner } from "./present.ts";
import { propose, proposalSources } from "./proposal.ts";

/** Rows of one group; whoever has accepted nothing yet carries what the rules would propose now. */
export async function presentRoster(
  db: Reading,
  groupId: string,
  rows: readonly RosterRow[],
  nowMs: number,
): Promise<RosterRowShape[]> {
  const open = rows.flatMap((row) =>
    row.advice === null && typeof row.weekJson === "string"
      ? [{ runner: row, state: json<WeekState>(row.weekJson) }]
      : [],
  );
  const sources = await proposalSources(db, groupId, open, nowMs);
  const proposed = new Map(sources.map((source) => [source.runner.id, propose(source).advice]));
  return rows.map((row) => presentRosterRow(row, proposed.get(row.id) ?? null));
}

function presentRosterRow(row: RosterRow, proposed: RosterRowShape["advice"]): RosterRowShape {
  const baseline = row.weekJson === null || row.weekJson === undefined ? null : json<WeekState>(row.weekJson).baseline;
  const known = baseline?.kind === "baseline" ? baseline : null;
  return {
    runner: presentRunner(row),
    baselineSpm: known?.stepRateSpm ?? null,
    baselineSpeedMps: known?.speedMps ?? null,
    advice: row.advice ?? proposed,
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
