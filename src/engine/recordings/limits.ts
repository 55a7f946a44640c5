// How much a reader takes on before it says no.

export interface ReadLimits {
  readonly maxBytes: number;
  /** Nesting of XML elements. */
  readonly maxDepth: number;
  /** Points, or rows of a table. */
  readonly maxPoints: number;
  /** Asked about once per 64 kB; true stops the reading. The caller owns the clock. */
  readonly expired?: () => boolean;
}

/** A day at one sample a second is 86,400 points and about 25 MB of GPX. */
export const DEFAULT_LIMITS: ReadLimits = { maxBytes: 64 * 1024 * 1024, maxDepth: 64, maxPoints: 500_000 };

/** Numbers beyond this are no time and no measure in any unit; what is computed of smaller ones stays finite. */
export const LARGEST_NUMBER = 1e30;

/** Problems told of one file; more would only repeat themselves. */
export const MAX_PROBLEMS = 20;

export interface ReadOptions {
  readonly fileName: string;
  readonly limits?: Partial<ReadLimits>;
}
