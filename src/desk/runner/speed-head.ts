import type { Format } from "../../ui/words/format.ts";
import { runnerWords } from "../strings/runner.ts";

/** The head of a column of bare speeds: what it is and its unit. */
export function speedHead(format: Format): string {
  const words = runnerWords.speedHead;
  return format.reading.speed === "km-per-h" ? words.speed(format.speedUnit) : words.pace(format.speedUnit);
}
