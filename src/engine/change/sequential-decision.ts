// Looking every week and stopping at the first good week finds changes that are not there. Wald's sequential test allows a look
// after every run and still keeps both errors: Wald 1945, Ann. Math. Stat. 16:117–186 (from memory; bounds in check value 45).
// The runs after share one baseline and the day-to-day spread is not known, so the likelihood ratio is taken of everything so far:
// of the change as the comparison knows it, with the spread averaged over, and not added up run by run. How large a change would be is
// not known either: it is averaged over too, a half normal with the wanted change as its mean (Robbins 1970, Ann. Math. Stat. 41:1397,
// from memory). A ratio of 18 is then reached by chance in at most 1 of 18 runners (Ville's inequality), however often one looks.
import { SEQUENTIAL } from "../evidence/change.ts";
import type { NormalMixture } from "./normal-mixture.ts";
import { normalCdf } from "./student-t.ts";

export interface SequentialVerdict {
  /** `changed`: more than chance, however often one looks. `no-change`: the wanted change is not there. */
  readonly verdict: "changed" | "no-change" | "go-on";
  /** Log likelihood ratio of a rise of about the wanted size against none, and the bounds it is held against. */
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
  const evidence = logRatio(change, Math.log1p(wantedChangePercent / 100));
  const verdict = evidence >= upper ? "changed" : evidence <= lower ? "no-change" : "go-on";
  return { verdict, evidence, upper, lower, wantedChangePercent };
}

/** The likelihood of a half-normal change with mean `wanted` over that of none; spreads weighed as their likelihood weighs them. */
function logRatio({ means, sds, weights }: NormalMixture, wanted: number): number {
  const spread = wanted * Math.sqrt(Math.PI / 2);
  const none: number[] = [];
  const some: number[] = [];
  means.forEach((mean, k) => {
    const sd = sds[k]!;
    const wide = Math.hypot(sd, spread);
    const side = Math.max(normalCdf((mean * spread) / (sd * wide)), 1e-300);
    none.push(Math.log(weights[k]! / sd) - 0.5 * (mean / sd) ** 2);
    some.push(Math.log((2 * weights[k]! * side) / wide) - 0.5 * (mean / wide) ** 2);
  });
  return logSumExp(some) - logSumExp(none);
}

/** Around the largest term, so that nothing overflows; a weight of 0 is −∞ and counts for nothing. */
function logSumExp(terms: readonly number[]): number {
  const top = Math.max(...terms);
  return top + Math.log(terms.reduce((sum, term) => sum + Math.exp(term - top), 0));
}
