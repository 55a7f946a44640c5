// A file's bytes to everything that is kept of it: summary, windows, traces. Pure; runs on the analysis thread.
import type { RecordingSummary } from "../../api/index.ts";
import { analyseRecording } from "../../engine/analysis/analyse-recording.ts";
import type { Analysis } from "../../engine/analysis/analysis.ts";
import { lateRunDrop } from "../../engine/change/late-run-drop.ts";
import { type Result, succeed } from "../../engine/quantities/problem.ts";
import { readRecording } from "../../engine/recordings/read-recording.ts";
import type { CueBlock, Surface } from "../../engine/recordings/recording.ts";
import type { RateWindow } from "../../engine/recordings/window.ts";
import { makeTrace, type Trace } from "./make-trace.ts";
import { keptWindows } from "./windows.ts";

export interface FileLabels {
  readonly fileName: string;
  /** What the coach said; "unknown" leaves it to the file. */
  readonly surface: Surface;
  readonly trimStartS: number;
  readonly trimEndS: number | null;
  /** Empty: as the file says. */
  readonly cueBlocks: readonly CueBlock[];
}

export interface AnalysedFile {
  readonly startedAt: string | null;
  readonly surface: Surface;
  readonly cueBlocks: readonly CueBlock[];
  readonly summary: RecordingSummary;
  readonly windows: readonly RateWindow[];
  readonly trace: Trace;
  readonly warnings: Analysis["warnings"];
}

/** Never throws for what a file holds: whatever a reader or the analysis trips over is a problem. */
export function analyseFile(bytes: Uint8Array, labels: FileLabels): Result<AnalysedFile> {
  const read = readRecording(bytes, { fileName: labels.fileName });
  if (!read.ok) return read;
  const marked = labels.cueBlocks.length === 0 ? read.value : { ...read.value, cueBlocks: labels.cueBlocks };
  const analysed = analyseRecording(marked, {
    readWarnings: read.warnings,
    ...(labels.surface === "unknown" ? {} : { surface: labels.surface }),
  });
  if (!analysed.ok) return analysed;
  const analysis = analysed.value;
  const kept = keptWindows({ ...labels, windows: analysis.windows });
  const drop = lateRunDrop(kept);
  return succeed({
    startedAt: analysis.startedAt,
    surface: analysis.surface,
    cueBlocks: [...marked.cueBlocks],
    summary: {
      kind: analysis.kind,
      durationS: analysis.durationS,
      movingS: analysis.movingS,
      distanceM: analysis.distanceM,
      stepRateSpm: analysis.stepRateSpm,
      speedMps: analysis.speedMps,
      stepLengthM: analysis.stepLengthM,
      feetCounted: analysis.feetCounted,
      meanQuality: meanQuality(kept),
      lateRunDropSpm: "kind" in drop ? null : drop,
    },
    windows: [...analysis.windows],
    trace: makeTrace(marked, analysis),
    warnings: [...analysis.warnings],
  });
}

function meanQuality(windows: readonly RateWindow[]): number {
  const running = windows.filter((window) => window.state === "running");
  return running.length === 0 ? 0 : running.reduce((sum, window) => sum + window.quality, 0) / running.length;
}
