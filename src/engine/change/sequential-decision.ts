// Looking every week and stopping at the first good week finds changes that are not there. Wald's sequential test allows a look
// after every run and still keeps both errors: Wald 1945, Ann. Math. Stat. 16:117–186 (from memory; bounds in check value 45).

export interface SequentialOptions {
  /** Spread of one run's change, percent: day to day, and the baseline's own error. Positive. */
  readonly sdPercent: number;
  /** The change that must not be missed, percent. Positive. */
  readonly wantedChangePercent: number;
  /** How often nothing is called a change. Default 0.05. */
  readonly falseAlarm?: number;
  /** How often the wanted change is missed. Default 0.10. */
  readonly miss?: number;
}

export interface SequentialDecision {
  readonly verdict: "changed" | "no-change" | "go-on";
  /** Log likelihood ratio, and the bounds it is held against. */
  readonly evidence: number;
  readonly upper: number;
  readonly lower: number;
  /** Runs that were looked at until the verdict. */
  readonly runCount: number;
}

/** ln((1−miss)/falseAlarm) above, ln(miss/(1−falseAlarm)) below. */
export function waldBounds(falseAlarm = 0.05, miss = 0.1): { readonly upper: number; readonly lower: number } {
  return { upper: Math.log((1 - miss) / falseAlarm), lower: Math.log(miss / (1 - falseAlarm)) };
}

/** Takes the matched-speed changes of single runs against the baseline, percent, in order, and stops at the first bound reached. */
export function sequentialDecision(changesPercent: readonly number[], options: SequentialOptions): SequentialDecision {
  const { sdPercent, wantedChangePercent } = options;
  if (!(sdPercent > 0 && wantedChangePercent > 0))
    throw new RangeError("sequentialDecision: sdPercent and wantedChangePercent must be positive");
  const { upper, lower } = waldBounds(options.falseAlarm, options.miss);
  let evidence = 0;
  let runCount = 0;
  for (const change of changesPercent) {
    runCount += 1;
    evidence += (wantedChangePercent * (change - wantedChangePercent / 2)) / sdPercent ** 2;
    if (evidence >= upper) return { verdict: "changed", evidence, upper, lower, runCount };
    if (evidence <= lower) return { verdict: "no-change", evidence, upper, lower, runCount };
  }
  return { verdict: "go-on", evidence, upper, lower, runCount };
}
