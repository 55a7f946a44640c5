// From numbers to a word, and from the word to a sentence.
import { SMALLEST_WORTHWHILE_CHANGE_SPM, SPEED_UP_LIMIT_PERCENT } from "../evidence/change.ts";
import type { Interval } from "../quantities/uncertain.ts";
import type { Finding } from "./comparison.ts";

export interface FindingInput {
  readonly changeSpm: { readonly estimate: number; readonly interval95: Interval };
  readonly speedChangePercent: number;
  readonly beforeRunCount: number;
  readonly afterRunCount: number;
}

/**
 * The finding of a comparison. In this order: a single run on a side proves nothing; an interval above 0 is `changed`, or `both`
 * when speed rose by more than 3 % as well; an interval below 0 is `dropped`; faster by more than 3 % with a change that may be
 * nothing and is estimated under 2 spm is `faster-only`; an interval inside ±2 spm is `no-change`.
 */
export function findingOf(input: FindingInput): Finding {
  const { low, high } = input.changeSpm.interval95;
  const worthwhile = SMALLEST_WORTHWHILE_CHANGE_SPM.value;
  const faster = input.speedChangePercent > SPEED_UP_LIMIT_PERCENT.value;
  if (Math.min(input.beforeRunCount, input.afterRunCount) < 2) return "not-enough-evidence";
  if (low > 0) return faster ? "both" : "changed";
  if (high < 0) return "dropped";
  if (faster && input.changeSpm.estimate < worthwhile) return "faster-only";
  if (low > -worthwhile && high < worthwhile) return "no-change";
  return "not-enough-evidence";
}

/** Does the finding say that the step rate rose at the same speed? */
export const findingSaysChange = (finding: Finding): boolean => finding === "changed" || finding === "both";

const whole = (value: number): string => Math.abs(value).toFixed(Math.abs(value) < 9.95 ? 1 : 0);

/** "between 2.0 and 6.1 spm quicker", "between 1.2 spm slower and 3.0 spm quicker". */
function between({ low, high }: Interval): string {
  const word = (x: number): string => (x < 0 ? "slower" : "quicker");
  if (low < 0 === high < 0) {
    const [near, far] = low < 0 ? [high, low] : [low, high];
    return `between ${whole(near)} and ${whole(far)} spm ${word(far)}`;
  }
  return `between ${whole(low)} spm ${word(low)} and ${whole(high)} spm ${word(high)}`;
}

export interface SentenceInput extends FindingInput {
  readonly finding: Finding;
  readonly runsStillNeeded: number | null;
  readonly leansOnSlope: boolean;
}

/** One plain sentence, two at most. Says the change at the same speed, how sure, and what is missing. */
export function sentenceOf(input: SentenceInput): string {
  const { estimate, interval95 } = input.changeSpm;
  const size = `about ${whole(estimate)} spm ${estimate < 0 ? "slower" : "quicker"} at the same speed, 95 % sure it is ${between(interval95)}`;
  const faster = `${Math.abs(input.speedChangePercent).toFixed(0)} % ${input.speedChangePercent < 0 ? "slower" : "faster"}`;
  const more =
    input.runsStillNeeded === null
      ? "More runs alone will not settle it: run at the same speed as before."
      : `About ${input.runsStillNeeded} more ${input.runsStillNeeded === 1 ? "run" : "runs"} would tell.`;
  const lean = input.leansOnSlope
    ? " The speeds hardly overlap, so this leans on the usual slope of step rate over speed."
    : "";
  switch (input.finding) {
    case "changed":
      return `Changed: ${size}.${lean}`;
    case "both":
      return `Changed, and running ${faster} as well: ${size}.${lean}`;
    case "faster-only":
      return `Only running faster (${faster}): at the same speed the step rate is as before, 95 % sure the change is ${between(interval95)}.${lean}`;
    case "dropped":
      return `Step rate fell: ${size}.${lean}`;
    case "no-change":
      return `No change at the same speed: ${between(interval95)}, less than is worth having.${lean}`;
    case "not-enough-evidence": {
      const single =
        Math.min(input.beforeRunCount, input.afterRunCount) < 2 ? " One run on a side is never proof." : "";
      return `Not enough evidence yet: ${size}.${single} ${more}${lean}`;
    }
  }
}
