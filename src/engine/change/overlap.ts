// Do both sides meet at the same speeds, and at which speed are they compared?
import type { Warning } from "../quantities/problem.ts";
import type { Interval } from "../quantities/uncertain.ts";
import { quantile } from "./block-bootstrap.ts";
import type { Overlap } from "./comparison.ts";
import type { PreparedRun } from "./prepare-runs.ts";

export interface OverlapOptions {
  /** Compare at this speed, m/s. Default: the middle of the speeds that both sides ran. */
  readonly atSpeedMps?: number;
}

/** Under this share of minutes at common speeds the comparison is said to lean on the slope. */
const ENOUGH_COMMON_SHARE = 0.2;

export interface OverlapResult {
  readonly overlap: Overlap;
  readonly referenceSpeedMps: number;
  readonly warnings: readonly Warning[];
}

/** Overlap of the middle 90 % of speeds of both sides. atSpeedMps must be in (0.5, 12) when given (RangeError). */
export function overlapOf(
  before: readonly PreparedRun[],
  after: readonly PreparedRun[],
  options: OverlapOptions = {},
): OverlapResult {
  const at = options.atSpeedMps;
  if (at !== undefined && !(at > 0.5 && at < 12))
    throw new RangeError(`overlapOf: atSpeedMps must be in (0.5, 12), got ${at}`);
  const speeds = (side: readonly PreparedRun[]): number[] =>
    side.flatMap((run) => run.minutes.map((minute) => Math.exp(minute.lnSpeed)));
  const [left, right] = [speeds(before), speeds(after)];
  const range = (values: readonly number[]): Interval => ({
    low: quantile(values, 0.05),
    high: quantile(values, 0.95),
  });
  const [beforeMps, afterMps] = [range(left), range(right)];
  // A belt holds one speed: half a percent of tolerance lets equal speeds meet.
  const low = Math.max(beforeMps.low, afterMps.low) * 0.995;
  const high = Math.min(beforeMps.high, afterMps.high) * 1.005;
  const commonMps = low <= high ? { low, high } : null;
  const inside = (values: readonly number[]): number =>
    commonMps === null ? 0 : values.filter((v) => v >= commonMps.low && v <= commonMps.high).length / values.length;
  // The poorer side counts: a comparison is as matched as its less matched side.
  const commonShare = Math.min(inside(left), inside(right));
  const leansOnSlope = commonShare < ENOUGH_COMMON_SHARE;
  const geometric = (a: number, b: number): number => Math.sqrt(a * b);
  const middle = (values: readonly number[]): number =>
    Math.exp(values.reduce((s, v) => s + Math.log(v), 0) / values.length);
  const referenceSpeedMps =
    at ??
    (commonMps === null || leansOnSlope
      ? geometric(middle(left), middle(right))
      : geometric(commonMps.low, commonMps.high));
  const warnings: Warning[] = [];
  if (leansOnSlope)
    warnings.push({
      code: "little-overlap",
      message:
        "The speeds before and after hardly overlap: the comparison leans on the usual slope of step rate over speed.",
    });
  const lowest = Math.min(beforeMps.low, afterMps.low);
  const highest = Math.max(beforeMps.high, afterMps.high);
  if (referenceSpeedMps < 0.98 * lowest || referenceSpeedMps > 1.02 * highest)
    warnings.push({
      code: "reference-speed-outside",
      message: `Nobody ran at ${referenceSpeedMps.toFixed(2)} m/s: the step rates there are extrapolated.`,
    });
  return { overlap: { beforeMps, afterMps, commonMps, commonShare, leansOnSlope }, referenceSpeedMps, warnings };
}
