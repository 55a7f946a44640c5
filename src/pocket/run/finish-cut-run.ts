// Gives a run that was cut off its last lines, so that it can be sent.
import { phoneEndLine } from "../../engine/recordings/phone-recording-lines.ts";
import type { PocketDatabase } from "../data/database.ts";
import { addPiece, RunNotOpenError } from "../data/runs.ts";
import { cueLineOf } from "./cue-line.ts";

/** Safe to ask for twice. */
export async function finishCutRun(database: PocketDatabase, runId: string): Promise<void> {
  const run = await database.get("runs", runId);
  if (run === undefined) return;
  const text = cueLineOf(run.openCue, run.lastTimeMs) + phoneEndLine(run.lastTimeMs);
  try {
    await addPiece(database, runId, { text, lastTimeMs: run.lastTimeMs, end: true });
  } catch (error) {
    if (!(error instanceof RunNotOpenError)) throw error;
  }
}
