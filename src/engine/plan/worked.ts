// Rule D11: when “it worked” may be said.
import { runsPerSideMin } from "../evidence/decisions.ts";
import type { Uncertain } from "../quantities/uncertain.ts";
import { plain, type Reason, reason } from "../target/reason.ts";
import { type AdviceSettings, defaultSettings } from "../target/settings.ts";

export interface ProvenChange {
  readonly worked: boolean;
  readonly reason: Reason;
}

/**
 * Whether a change may be called proven: the matched-speed interval lies above 0 and both sides have enough runs.
 * `runsStillNeeded` (both sides together) comes from the comparison and is said otherwise.
 */
export function sayWhetherItWorked(
  matchedSpeedChangeSpm: Pick<Uncertain, "estimate" | "interval95">,
  runs: { readonly before: number; readonly after: number; readonly stillNeeded: number },
  settings: AdviceSettings = defaultSettings,
): ProvenChange {
  const { estimate, interval95 } = matchedSpeedChangeSpm;
  const enoughRuns = Math.min(runs.before, runs.after) >= settings.runsPerSideMin;
  const worked = enoughRuns && interval95.low > 0;
  const between = `${plain(interval95.low)} and ${plain(interval95.high)} spm`;
  // With one run on a side the interval is mostly assumption, so it does not matter where it lies.
  const missing = Math.max(
    runs.stillNeeded,
    settings.runsPerSideMin - runs.before,
    settings.runsPerSideMin - runs.after,
    1,
  );
  const text = worked
    ? `It worked: about ${plain(estimate)} spm quicker at the same speed, 95 % sure it is between ${between}.`
    : interval95.high < 0 && enoughRuns
      ? `At the same speed the step rate is lower than before (between ${between}).`
      : `Not proven yet (between ${between}): about ${missing} more run${missing === 1 ? "" : "s"}.`;
  return { worked, reason: reason("D11", text, runsPerSideMin) };
}
