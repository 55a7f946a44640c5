// How many runs a side to plan for, so that a change of this size will be seen if it is there.
import type { NotEnough } from "../quantities/uncertain.ts";
import { POWER_EFFECTS_PERCENT, POWER_ROWS } from "./power-table.ts";

/**
 * Runs needed on each side to find a true change of `effectPercent` in at least 80 % of cases, at this day-to-day spread (percent).
 * Read from the simulated table on the careful side: the next larger spread, the next smaller effect. Both must be positive.
 * Not enough beyond the table: more than 12 runs a side, a spread above 2.5 % or an effect below 2 %.
 */
export function runsNeeded(dayToDaySdPercent: number, effectPercent: number): number | NotEnough {
  if (!(dayToDaySdPercent > 0 && effectPercent > 0))
    throw new RangeError(
      `runsNeeded: spread and effect must be positive, got ${dayToDaySdPercent} and ${effectPercent}`,
    );
  const row = POWER_ROWS.find((candidate) => candidate.dayToDaySdPercent >= dayToDaySdPercent - 1e-9);
  const column = POWER_EFFECTS_PERCENT.findLastIndex((effect) => effect <= effectPercent + 1e-9);
  const runs = column < 0 ? null : row?.runsPerSide[column];
  if (runs === undefined || runs === null)
    return {
      kind: "not-enough",
      need: "more than 12 runs on each side",
      have: `a change of ${effectPercent} % against days that differ by ${dayToDaySdPercent} %`,
    };
  return runs;
}
