// How much of the cued rise stays when the beat stops: 0 is back at baseline, 1 is all of it.
import { t95 } from "../../engine/change/student-t.ts";
import type { Interval } from "../../engine/quantities/uncertain.ts";
import type { RunFacts } from "./runner-state.ts";

/** Below a rise of this size the share is noise divided by little. */
const LEAST_RISE_SPM = 2;

/** Of one run; null without a stretch off the beat or with hardly a rise to keep. */
export function carryOverShare(run: Pick<RunFacts, "cueOffSpm" | "targetSpm">, baselineSpm: number): number | null {
  if (run.cueOffSpm === null || run.targetSpm === null) return null;
  const rise = run.targetSpm - baselineSpm;
  return rise < LEAST_RISE_SPM ? null : (run.cueOffSpm - baselineSpm) / rise;
}

/** Mean over runs with its t interval; the run is the unit of evidence, so one run says nothing of how sure. */
export function carryOverOf(
  runs: readonly RunFacts[],
  baselineSpm: number,
): { readonly share: number; readonly interval95: Interval } | null {
  const shares = runs.flatMap((run) => carryOverShare(run, baselineSpm) ?? []);
  const n = shares.length;
  if (n < 2) return null;
  const share = shares.reduce((sum, value) => sum + value, 0) / n;
  const variance = shares.reduce((sum, value) => sum + (value - share) ** 2, 0) / (n - 1);
  const half = t95(n - 1) * Math.sqrt(variance / n);
  return { share, interval95: { low: share - half, high: share + half } };
}
