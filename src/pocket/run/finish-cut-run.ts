// Gives a run that was cut off its last lines, so that it can be sent.
import { phoneEndLine } from "../../engine/recordings/phone-recording-lines.ts";
import type { PocketDatabase } from "../data/database.ts";
import { addPiece, removeRun, RunNotOpenError } from "../data/runs.ts";
import { cueLineOf } from "./cue-line.ts";
import { LEAST_SAMPLES } from "./recorder.ts";

/** Safe to ask for twice. "empty": it was cut off before anything was seen, and is gone. */
export async function finishCutRun(database: PocketDatabase, runId: string): Promise<"finished" | "empty"> {
  const run = await database.get("runs", runId);
  if (run === undefined) return "empty";
  if (run.motionCount < LEAST_SAMPLES) {
    await removeRun(database, runId);
    return "empty";
  }
  const text = cueLineOf(run.openCue, run.lastTimeMs) + phoneEndLine(run.lastTimeMs);
  try {
    await addPiece(database, runId, { text, lastTimeMs: run.lastTimeMs, end: true });
  } catch (error) {
    if (!(error instanceof RunNotOpenError)) throw error;
  }
  return "finished";
}
