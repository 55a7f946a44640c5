import { formatMinutesSeconds } from "../../engine/quantities/units.ts";
import type { ClockPhase } from "./use-counting-clock.ts";

/** "3" while getting ready, "0:37" while counting: whole seconds that have passed, never the one that is coming. */
export function clockDigits(phase: ClockPhase, elapsedS: number): string {
  if (phase === "ready") return String(Math.max(1, Math.ceil(-elapsedS)));
  return formatMinutesSeconds(Math.floor(Math.max(0, elapsedS) + 1e-6));
}
