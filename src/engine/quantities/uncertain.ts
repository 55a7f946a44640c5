// The one shape of an uncertain number. Every estimate that a coach reads has it.

export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Uncertain {
  /** In the unit that the field's name carries. */
  readonly estimate: number;
  readonly standardError: number;
  readonly interval95: Interval;
  /** How many independent pieces of evidence stand behind it (counts, runs, windows: `method` says which). */
  readonly sampleCount: number;
  /** How it was made, in a few plain words. */
  readonly method: string;
}

/** No answer is a value, never NaN, null or an empty array standing for it. */
export interface NotEnough {
  readonly kind: "not-enough";
  /** What would be enough, in plain words. */
  readonly need: string;
  /** What there is, in plain words. */
  readonly have: string;
}
