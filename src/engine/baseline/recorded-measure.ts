// An analysed recording as one measure of a baseline.
import type { Analysis } from "../analysis/analysis.ts";
import type { NotEnough } from "../quantities/uncertain.ts";
import type { BaselineMeasure } from "./make-baseline.ts";
import { steadyRate } from "./steady-rate.ts";

/** The settled step rate of the recording (see steadyRate), or what it lacks. */
export function recordedMeasure(analysis: Analysis): BaselineMeasure | NotEnough {
  const measured = steadyRate(analysis.windows);
  if (measured.kind === "not-enough") return measured;
  return { kind: "recorded", measured, surface: analysis.surface };
}
