// When a beat falls. The rate is linear in time within a segment, so the phase is a quadratic and its inverse a closed form:
//   phase(t) = p + f·t + a·t²/2 = n   =>   t = 2x / (f + sqrt(f² + 2·a·x)),  x = n − p
// (the form of the root that does not cancel; a = 0 gives x/f). p, f, a and the start are exact fractions.
import { type Rational, add, compare, divide, multiply, rational, subtract, toNumber } from "./rational.ts";
import { type BeatSegment } from "./schedule.ts";

/** Adds the doubles to a segment's fractions. */
export function withClock(exact: Omit<BeatSegment, "clock">): BeatSegment {
  const clock = {
    startS: toNumber(exact.startS),
    rateHz: toNumber(exact.startRateHz),
    slopeHz2: toNumber(exact.rateSlopeHz2),
    toFirstBeat: toNumber(subtract(rational(BigInt(exact.firstBeat)), exact.startPhase)),
  };
  return { ...exact, clock };
}

/** Time of the index-th beat of the segment (0 is its first), in seconds on the track's clock; error below 1e-10 s in a day. */
export function beatTimeS({ clock }: BeatSegment, index: number): number {
  const phase = clock.toFirstBeat + index;
  const root = Math.sqrt(clock.rateHz * clock.rateHz + 2 * clock.slopeHz2 * phase);
  return clock.startS + (2 * phase) / (clock.rateHz + root);
}

/** Index of the first beat of the segment at or after timeS; beatCount when there is none. */
export function firstBeatAtOrAfter(segment: BeatSegment, timeS: number): number {
  const { beatCount, clock } = segment;
  const sinceStartS = timeS - clock.startS;
  // A falling ramp turns back beyond its end, so jump over it instead of evaluating there.
  if (sinceStartS <= 0) return 0;
  if (beatCount === 0 || beatTimeS(segment, beatCount - 1) < timeS) return beatCount;
  const phase = clock.rateHz * sinceStartS + (clock.slopeHz2 * sinceStartS * sinceStartS) / 2;
  let index = Math.min(beatCount - 1, Math.max(0, Math.ceil(phase - clock.toFirstBeat)));
  while (index > 0 && beatTimeS(segment, index - 1) >= timeS) index -= 1;
  while (beatTimeS(segment, index) < timeS) index += 1;
  return index;
}

// A double near 4e9 samples (a day at 48 kHz) is good to about 1e-6 of a sample; outside this margin it rounds as the exact time does.
const DOUBTFUL_SAMPLES = 1e-3;

/** The exact time of a beat in samples, rounded half up. Decided by fractions whenever the double is too close to call. */
export function beatSampleIndex(segment: BeatSegment, index: number, sampleRateHz: number): number {
  const samples = beatTimeS(segment, index) * sampleRateHz;
  const below = Math.floor(samples);
  if (Math.abs(samples - below - 0.5) > DOUBTFUL_SAMPLES) return Math.round(samples);
  const half = rational(2n * BigInt(below) + 1n, 2n * BigInt(sampleRateHz));
  return compare(phaseAt(segment, half), rational(BigInt(segment.firstBeat + index))) <= 0 ? below + 1 : below;
}

/** Exact phase of the run at timeS, continued beyond the segment's ends. */
export function phaseAt(segment: Omit<BeatSegment, "clock">, timeS: Rational): Rational {
  const elapsed = subtract(timeS, segment.startS);
  const steady = multiply(segment.startRateHz, elapsed);
  const bend = divide(multiply(segment.rateSlopeHz2, multiply(elapsed, elapsed)), rational(2n));
  return add(segment.startPhase, add(steady, bend));
}
