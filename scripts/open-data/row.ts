// One line of the check against recordings that nobody of this project made.

export interface OpenDataRow {
  readonly dataSet: string;
  /** File, trial or placement. */
  readonly item: string;
  /** What we found, with unit. */
  readonly measured: string;
  /** What the truth or the bar is, with unit. */
  readonly expected: string;
  readonly pass: boolean;
}
