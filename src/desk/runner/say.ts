// The one sentence a coach reads first, in plain words: what changed at the same speed, and how sure that is.
import type { BaselineAnswer, Comparison, ComparisonAnswer } from "../../api/index.ts";
import { SPEED_UP_LIMIT_PERCENT } from "../../engine/evidence/change.ts";
import { type Format, intervalDigits } from "../../ui/words/format.ts";
import { runnerWords } from "../strings/runner.ts";

export interface SayLine {
  /** Set in the accent: the finding itself. */
  readonly strong: string;
  readonly rest: string;
}

const words = runnerWords.say;

export function sayLine(
  comparison: ComparisonAnswer | undefined,
  baseline: BaselineAnswer | undefined,
  format: Format,
): SayLine {
  if (comparison?.kind === "comparison") return sayComparison(comparison, format);
  if (baseline?.kind === "baseline") {
    const speed = baseline.speedMps === null ? "" : runnerWords.facts.at(format.speed(baseline.speedMps));
    return {
      strong: "",
      rest: words.baselineOnly(format.rate(baseline.stepRateSpm.estimate), speed),
    };
  }
  const need = baseline?.kind === "not-enough" ? words.needs(baseline.need) : "";
  return { strong: "", rest: `${words.noBaseline} ${need}`.trim() };
}

function sayComparison(comparison: Comparison, format: Format): SayLine {
  const { estimate, low95, high95 } = comparison.matchedSpeedChangeSpm;
  const digits = intervalDigits(low95, high95);
  const sure = words.sure(
    format.rateChangeValue(low95, digits),
    format.rateChangeValue(high95, digits),
    words.runs(comparison.before.runCount, comparison.after.runCount),
  );
  const changed = comparison.finding === "changed" || comparison.finding === "both";
  const faster = changed ? words.faster : words.onlyFaster;
  const speedUp =
    comparison.speedChangePercent > SPEED_UP_LIMIT_PERCENT.value
      ? ` ${faster(format.percent(comparison.speedChangePercent / 100))}`
      : "";
  const more =
    comparison.runsStillNeeded === null || comparison.runsStillNeeded === 0
      ? ""
      : ` ${words.stillNeeded(comparison.runsStillNeeded)}`;
  switch (comparison.finding) {
    case "changed":
    case "both":
      return { strong: words.quicker(amount(estimate, format, digits)), rest: `${sure}${speedUp}` };
    case "dropped":
      return { strong: words.slower(amount(-estimate, format, digits)), rest: `${sure}${speedUp}` };
    case "no-change":
      return { strong: words.same, rest: `${sure}${speedUp}` };
    case "faster-only":
      return { strong: words.same, rest: `${sure}${speedUp}${more}` };
    case "not-enough-evidence":
      return { strong: "", rest: `${words.notEnough} ${sure}${speedUp}${more}` };
  }
}

/** "7 spm": a size without a sign. */
function amount(spm: number, format: Format, digits: number): string {
  return format.rateChange(Math.abs(spm), digits).replace(/^\+/, "");
}
