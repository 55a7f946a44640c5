import { phoneCueLine } from "../../engine/recordings/phone-recording-lines.ts";
import type { OpenCue } from "../data/database.ts";

/** The line of a stretch that is over; nothing for one without length. */
export function cueLineOf(cue: OpenCue | undefined, endMs: number): string {
  if (cue === undefined || endMs <= cue.startMs) return "";
  return phoneCueLine({
    startS: cue.startMs / 1000,
    endS: endMs / 1000,
    cue: cue.cue,
    ...(cue.targetSpm === undefined ? {} : { targetSpm: cue.targetSpm }),
  });
}
