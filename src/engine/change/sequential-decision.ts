// Looking every week and stopping at the first good week finds changes that are not there. Wald's sequential test allows a look
// after every run and still keeps both errors: Wald 1945, Ann. Math. Stat. 16:117–186 (from memory; bounds in check value 45).
// The runs after share one baseline and the day-to-day spread is not known, so the likelihood ratio is taken of everything so far:
// of the change as the comparison knows it, with the spread averaged over, and not added up run by run.
import { SEQUENTIAL } from "../evidence/change.ts";
import type { NormalMixture } from "./normal-mixture.ts";

export interface SequentialVerdict {
  /** `changed`: more than chance, however often one looks. `no-change`: the wanted change is not there. */
  readonly verdict: "changed" | "no-change" | "go-on";
  /** Log likelihood ratio of the wanted change against none, and the bounds it is held against. */
  readonly evidence: number;
  readonly upper: number;
  readonly lower: number;
  readonly wantedChangePercent: number;
}

/** ln((1−miss)/falseAlarm) above, ln(miss/(1−falseAlarm)) below. */
export function waldBounds(falseAlarm: number, miss: number): { readonly upper: number; readonly lower: number } {
  return { upper: Math.log((1 - miss) / falseAlarm), lower: Math.log(miss / (1 - falseAlarm)) };
}

/**
 * The verdict after everything so far. `change` is ln step rate after minus before at the same speed, as fitted with a flat prior on
 * it. wantedChangePercent must be positive (RangeError).
 */
export function sequentialVerdict(
  change: NormalMixture,
  wantedChangePercent: number = SEQUENTIAL.value.wantedChangePercent,
): SequentialVerdict {
  if (!(wantedChangePercent > 0))
    throw new RangeError(`sequentialVerdict: wantedChangePercent must be positive, got ${wantedChangePercent}`);
  const { upper, lower } = waldBounds(SEQUENTIAL.value.falseAlarm, SEQUENTIAL.value.miss);
  const evidence = logDensity(change, Math.log1p(wantedChangePercent / 100)) - logDensity(change, 0);
  const verdict = evidence >= upper ? "changed" : evidence <= lower ? "no-change" : "go-on";
  return { verdict, evidence, upper, lower, wantedChangePercent };
}

/** ln of the mixture's density at x, up to a constant. The sum is taken around its largest term. */
function logDensity({ means, sds, weights }: NormalMixture, x: number): number {
  const terms = means.map((mean, k) => Math.log(weights[k]! / sds[k]!) - 0.5 * ((x - mean) / sds[k]!) ** 2);
  const top = Math.max(...terms);
  return top + Math.log(terms.reduce((sum, term) => sum + Math.exp(term - top), 0));
}
