// Steps that go on without a break or a jump of rate are one gait: where it could not be told it is that of the others.
import { type RatePoint } from "./rate-track.ts";

/** From one point to the next: nobody changes between walking and running without a change of rate or a pause. */
const SAME_RATE_SHARE = 0.04;
const LONGEST_PAUSE_S = 3;
/** At least this share of a chain must have told its gait by itself. */
const LEAST_TOLD_SHARE = 0.25;

/** Whether the steps of two points, in order of time, go on from one to the other. */
export function goesOn(before: RatePoint, after: RatePoint): boolean {
  if (before.stepRateSpm === null || after.stepRateSpm === null) return false;
  if (after.timeS - before.timeS > LONGEST_PAUSE_S) return false;
  return Math.abs(after.stepRateSpm - before.stepRateSpm) <= SAME_RATE_SHARE * before.stepRateSpm;
}

/** Points in order of time, each open gait settled by its chain if that tells only one. */
export function settleGaits(points: readonly RatePoint[]): readonly RatePoint[] {
  const settled: RatePoint[] = [];
  let from = 0;
  let last: RatePoint | undefined;
  const close = (to: number): void => {
    const gait = gaitOfChain(points, from, to);
    for (let i = from; i < to; i += 1) settled.push(gait === undefined ? points[i]! : withGait(points[i]!, gait));
    from = to;
    last = undefined;
  };
  for (let i = 0; i < points.length; i += 1) {
    const point = points[i]!;
    // Points without a rate lie inside a chain without breaking it, if they are few.
    if (point.stepRateSpm === null) continue;
    if (last !== undefined && !goesOn(last, point)) close(i);
    last = point;
  }
  close(points.length);
  return settled;
}

/** The point with this gait where its own is open. */
export function withGait(point: RatePoint, gait: "running" | "walking"): RatePoint {
  if (point.stepRateSpm === null || point.state !== "unknown") return point;
  const { timeS, stepRateSpm, quality } = point;
  return { timeS, stepRateSpm, quality, state: gait };
}

function gaitOfChain(points: readonly RatePoint[], from: number, to: number): "running" | "walking" | undefined {
  let running = 0;
  let walking = 0;
  let open = 0;
  for (let i = from; i < to; i += 1) {
    const point = points[i]!;
    if (point.stepRateSpm === null) continue;
    if (point.state === "running") running += 1;
    else if (point.state === "walking") walking += 1;
    else open += 1;
  }
  if (open === 0 || (running > 0 && walking > 0)) return undefined;
  if (running + walking < LEAST_TOLD_SHARE * (running + walking + open)) return undefined;
  return running > 0 ? "running" : "walking";
}
