import type { Run } from "../../engine/change/run.ts";
import type { RecordingInput } from "./runner-state.ts";
import { keptWindows } from "./windows.ts";

/** A stored recording as the statistics know a run. */
export function asRun(recording: RecordingInput): Run {
  return {
    id: recording.id,
    surface: recording.surface,
    windows: keptWindows(recording),
    ...(recording.startedAt === null ? {} : { startedAtMs: Date.parse(recording.startedAt) }),
    ...(recording.effortRating === null ? {} : { effortRating: recording.effortRating }),
  };
}
