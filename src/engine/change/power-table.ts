// Made by `npx tsx scripts/calibration.ts --power`; do not edit by hand.
// Fewest runs on each side that find a true change in at least 80 % of 200 simulated histories each; null: more than 12.

export interface PowerRow {
  readonly dayToDaySdPercent: number;
  /** One number for each effect of the table. */
  readonly runsPerSide: readonly (number | null)[];
}

export const POWER_EFFECTS_PERCENT: readonly number[] = [2, 3, 4, 5, 7.5, 10];

export const POWER_ROWS: readonly PowerRow[] = [
  { dayToDaySdPercent: 0.5, runsPerSide: [4, 3, 2, 2, 2, 2] },
  { dayToDaySdPercent: 1, runsPerSide: [6, 4, 3, 2, 2, 2] },
  { dayToDaySdPercent: 1.5, runsPerSide: [12, 6, 4, 3, 2, 2] },
  { dayToDaySdPercent: 2, runsPerSide: [null, 10, 6, 4, 2, 2] },
  { dayToDaySdPercent: 2.5, runsPerSide: [null, null, 8, 5, 3, 2] },
];
