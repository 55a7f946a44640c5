// Made by `npx tsx scripts/calibration.ts --power`; do not edit by hand.
// Fewest runs on each side that find a true change in at least 80 % of simulated histories; null: more than 12.

export interface PowerRow {
  readonly dayToDaySdPercent: number;
  /** One number for each effect of the table. */
  readonly runsPerSide: readonly (number | null)[];
}

export const POWER_EFFECTS_PERCENT: readonly number[] = [2, 3, 4, 5, 7.5, 10];

/** Histories behind each combination. */
export const POWER_HISTORY_COUNT = 200;

export const POWER_ROWS: readonly PowerRow[] = [
  { dayToDaySdPercent: 0.5, runsPerSide: [4, 3, 2, 2, 2, 2] },
  { dayToDaySdPercent: 1, runsPerSide: [6, 4, 3, 2, 2, 2] },
  { dayToDaySdPercent: 1.5, runsPerSide: [12, 5, 4, 3, 2, 2] },
  { dayToDaySdPercent: 2, runsPerSide: [null, 10, 5, 4, 2, 2] },
  { dayToDaySdPercent: 2.5, runsPerSide: [null, 12, 8, 6, 3, 2] },
];
