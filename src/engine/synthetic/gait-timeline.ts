// When an invented runner's feet land: segments of running, walking and standing with a changing rate and human jitter.
import { type Random } from "../quantities/random.ts";
import { stepIntervalS } from "../quantities/units.ts";

export interface GaitSegment {
  readonly state: "running" | "walking" | "standing";
  readonly durationS: number;
  /** Both feet, at the segment's start; needed unless standing. */
  readonly stepRateSpm?: number;
  /** At the segment's end, reached linearly; default: no change. */
  readonly endStepRateSpm?: number;
}

export interface GaitTimeline {
  readonly durationS: number;
  /** Contacts, ascending. */
  readonly stepTimesS: Float64Array;
  /** 0 or 1, alternating within a segment. */
  readonly feet: Uint8Array;
  /** Index into `segments` of each contact. */
  readonly segmentOf: Int32Array;
  readonly segments: readonly (GaitSegment & { readonly startS: number; readonly endS: number })[];
}

export interface GaitTimelineOptions {
  /** Difference of the two alternating step times over their mean. */
  readonly asymmetryShare: number;
  /** Standard deviation of single step times over their mean; half of it carries over to the next step. */
  readonly stepJitterShare: number;
}

/** Contact times of the segments laid end to end. Deterministic for a given random source. */
export function layGaitTimeline(
  segments: readonly GaitSegment[],
  options: GaitTimelineOptions,
  random: Random,
): GaitTimeline {
  const times: number[] = [];
  const feet: number[] = [];
  const segmentOf: number[] = [];
  const placed: (GaitSegment & { startS: number; endS: number })[] = [];
  let startS = 0;
  segments.forEach((segment, index) => {
    const endS = startS + segment.durationS;
    placed.push({ ...segment, startS, endS });
    if (segment.state !== "standing") {
      const from = segment.stepRateSpm;
      if (from === undefined) throw new RangeError("layGaitTimeline: a moving segment needs stepRateSpm");
      const to = segment.endStepRateSpm ?? from;
      let foot = random.below(2);
      let wander = 0;
      let timeS = startS + stepIntervalS(from) * random.next();
      while (timeS < endS) {
        times.push(timeS);
        feet.push(foot);
        segmentOf.push(index);
        const rate = from + ((to - from) * (timeS - startS)) / segment.durationS;
        wander = 0.5 * wander + Math.sqrt(0.75) * random.normal();
        const skew = foot === 0 ? options.asymmetryShare / 2 : -options.asymmetryShare / 2;
        timeS += stepIntervalS(rate) * Math.max(0.5, 1 + skew + options.stepJitterShare * wander);
        foot = 1 - foot;
      }
    }
    startS = endS;
  });
  return {
    durationS: startS,
    stepTimesS: Float64Array.from(times),
    feet: Uint8Array.from(feet),
    segmentOf: Int32Array.from(segmentOf),
    segments: placed,
  };
}
