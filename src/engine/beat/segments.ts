// Spans of sound to segments of beats. Where one span meets the next, the phase runs on: no beat is early, doubled or
// on the wrong foot at the boundary. After a silence the run starts anew, on the left foot, exactly on the span's start.
import { type Rational, ZERO, add, ceil, compare, divide, floor, multiply, rational, subtract } from "./rational.ts";
import { phaseAt, withClock } from "./beat-times.ts";
import { type BeatSegment, type BeatSpan } from "./schedule.ts";

export function buildSegments(spans: readonly BeatSpan[], countInBeats: number): readonly BeatSegment[] {
  const segments: BeatSegment[] = [];
  let previousEndS: Rational | undefined;
  let phase = ZERO;
  for (const span of spans) {
    const continues = previousEndS !== undefined && compare(previousEndS, span.startS) === 0;
    if (!continues) {
      phase = ZERO;
      const countIn = countInSegment(span, previousEndS, countInBeats);
      if (countIn !== undefined) segments.push(countIn);
    }
    const segment = clickSegment(span, phase);
    phase = phaseAt(segment, span.endS);
    segments.push(segment);
    previousEndS = span.endS;
  }
  return segments;
}

function clickSegment(span: BeatSpan, startPhase: Rational): BeatSegment {
  const lengthS = subtract(span.endS, span.startS);
  const open = {
    kind: "click" as const,
    blockIndex: span.blockIndex,
    startS: span.startS,
    startRateHz: span.startRateHz,
    rateSlopeHz2: divide(subtract(span.endRateHz, span.startRateHz), lengthS),
    startPhase,
    firstBeat: Number(ceil(startPhase)),
    beatCount: 0,
  };
  return withClock({ ...open, beatCount: Number(ceil(phaseAt(open, span.endS))) - open.firstBeat });
}

/** Beats −n … −1 at the span's starting rate, as many as fit into the silence before it with one interval to spare. */
function countInSegment(
  span: BeatSpan,
  previousEndS: Rational | undefined,
  countInBeats: number,
): BeatSegment | undefined {
  if (!span.opensBlock || countInBeats === 0) return undefined;
  const silenceS = subtract(span.startS, previousEndS ?? ZERO);
  const intervals = Number(floor(multiply(silenceS, span.startRateHz)));
  const count = Math.min(countInBeats, previousEndS === undefined ? intervals : intervals - 1);
  if (count <= 0) return undefined;
  const beats = rational(BigInt(count));
  return withClock({
    kind: "count-in",
    blockIndex: span.blockIndex,
    startS: subtract(span.startS, divide(beats, span.startRateHz)),
    startRateHz: span.startRateHz,
    rateSlopeHz2: ZERO,
    startPhase: subtract(ZERO, beats),
    firstBeat: -count,
    beatCount: count,
  });
}

/** Length of a count-in of so many beats at a rate. */
export function countInS(countInBeats: number, rateHz: Rational): Rational {
  return add(ZERO, divide(rational(BigInt(countInBeats)), rateHz));
}
