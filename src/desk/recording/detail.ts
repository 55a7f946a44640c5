import type { CallOutput } from "../../api/index.ts";

/** A recording with its windows and traces. */
export type RecordingDetail = CallOutput<"GET /api/runners/:runnerId/recordings/:recordingId">;
