// One run in a word, from its two parts. Shares are logarithms; small ones are noise and are not talked about.
import { runnerWords } from "../strings/runner.ts";

const words = runnerWords.splits.words;
/** ln of 1.03: speed within 3 % is "the same speed" (rule D5). */
const SAME_SPEED = Math.log(1.03);
/** 1.2 % is about 2 spm, the smallest change worth a word. */
const SAME_RATE = Math.log(1.012);

/** `lnOwnRate` is the part of the step rate that speed does not explain: ln(f2/f1) − β·ln(v2/v1). */
export function splitWord(
  split: { readonly lnSpeed: number; readonly lnStepRate: number },
  speedExponent: number,
): string {
  const own = split.lnStepRate - speedExponent * split.lnSpeed;
  const sameSpeed = Math.abs(split.lnSpeed) <= SAME_SPEED;
  if (own > SAME_RATE) return sameSpeed ? words.quicker : split.lnSpeed > 0 ? words.both : words.quicker;
  if (own < -SAME_RATE) return words.slower;
  if (sameSpeed) return words.same;
  return split.lnSpeed > 0 ? words.justFaster : words.easier;
}
