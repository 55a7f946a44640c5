// What was chosen a tap before the run's screen opens.
import type { Sensors } from "./prepare.ts";

export interface NextRun {
  readonly surface: "outdoor" | "treadmill" | "unknown";
  readonly sensors: Sensors;
}

let next: NextRun = { surface: "unknown", sensors: "granted" };

export function setNextRun(chosen: NextRun): void {
  next = chosen;
}

export function nextRun(): NextRun {
  return next;
}
