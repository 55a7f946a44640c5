// What running costs on a slope.
import { RUNNING_COST } from "../evidence/load.ts";

/** Energy per kilogram and metre (J/(kg m)) at a slope from −0.45 to 0.45 (RangeError outside). Minetti et al. 2002. */
export function runningCostJPerKgM(slope: number): number {
  if (!(Math.abs(slope) <= 0.45)) throw new RangeError(`runningCostJPerKgM: slope must be within ±0.45, got ${slope}`);
  return RUNNING_COST.value.reduce((sum, coefficient) => sum * slope + coefficient, 0);
}
