// Stretches of a rate track that one rhythm runs through, at the faster of the two rates that a point can mean.
import { stepIntervalS } from "../quantities/units.ts";
import { type RatePoint, type RateTrack } from "./rate-track.ts";

export interface SoundStretch {
  /** Points of the track, consecutive. */
  readonly pointIndices: readonly number[];
  readonly fromFrame: number;
  /** Exclusive. */
  readonly toFrame: number;
}

export interface SoundStretches {
  readonly stretches: readonly SoundStretch[];
  /** Expected frames from one sound to the next, at the faster reading; 0 outside the stretches. */
  readonly intervalFrames: Float64Array;
}

/** Up to here a rate may be one foot's, or a walk's: the double is looked at too. */
const SLOW_READING_SPM = 120;
const SAME_RHYTHM_SHARE = 0.06;
/** A hole of one or two points inside one rhythm does not end it. */
const LONGEST_HOLE_POINTS = 3;

/** The faster reading of a point's rate: every sound a step of a run. */
export function fastReadingSpm(stepRateSpm: number): number {
  return stepRateSpm > SLOW_READING_SPM ? stepRateSpm : 2 * stepRateSpm;
}

export function findStretches(track: RateTrack, frameRateHz: number, frameCount: number): SoundStretches {
  const runs: number[][] = [];
  track.points.forEach((point, index) => {
    if (point.stepRateSpm === null) return;
    const run = runs.at(-1);
    const lastIndex = run?.at(-1);
    const last = lastIndex === undefined ? undefined : track.points[lastIndex];
    if (
      run !== undefined &&
      lastIndex !== undefined &&
      last !== undefined &&
      last.stepRateSpm !== null &&
      index - lastIndex <= LONGEST_HOLE_POINTS &&
      Math.abs(Math.log(fastReadingSpm(point.stepRateSpm) / fastReadingSpm(last.stepRateSpm))) < SAME_RHYTHM_SHARE
    )
      run.push(index);
    else runs.push([index]);
  });
  const intervalFrames = new Float64Array(frameCount);
  const bounds = runs.map((run) => ({
    startS: track.points[run[0]!]!.timeS - track.windowS / 2,
    endS: track.points[run.at(-1)!]!.timeS + track.windowS / 2,
  }));
  const stretches = runs.map((run, index) => {
    const before = bounds[index - 1];
    const after = bounds[index + 1];
    const { startS, endS } = bounds[index]!;
    // Windows of neighbouring stretches overlap: they share the difference.
    const fromS = before !== undefined && before.endS > startS ? (before.endS + startS) / 2 : startS;
    const toS = after !== undefined && after.startS < endS ? (endS + after.startS) / 2 : endS;
    const fromFrame = Math.max(0, Math.ceil(fromS * frameRateHz));
    const toFrame = Math.max(fromFrame, Math.min(frameCount, Math.ceil(toS * frameRateHz)));
    fillIntervals(
      intervalFrames,
      fromFrame,
      toFrame,
      run.map((point) => track.points[point]!),
      frameRateHz,
    );
    return { pointIndices: run, fromFrame, toFrame };
  });
  return { stretches, intervalFrames };
}

/** Linear between points, constant beyond the first and last. */
function fillIntervals(
  intervalFrames: Float64Array,
  fromFrame: number,
  toFrame: number,
  points: readonly RatePoint[],
  frameRateHz: number,
): void {
  let at = 0;
  for (let frame = fromFrame; frame < toFrame; frame += 1) {
    const timeS = frame / frameRateHz;
    while (at + 1 < points.length && points[at + 1]!.timeS <= timeS) at += 1;
    const left = points[at]!;
    const right = points[at + 1] ?? left;
    const span = right.timeS - left.timeS;
    const share = span > 0 ? Math.max(0, (timeS - left.timeS) / span) : 0;
    const leftSpm = fastReadingSpm(left.stepRateSpm ?? 0);
    const rateSpm = leftSpm + share * (fastReadingSpm(right.stepRateSpm ?? 0) - leftSpm);
    intervalFrames[frame] = stepIntervalS(rateSpm) * frameRateHz;
  }
}
