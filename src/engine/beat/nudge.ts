// A target changed while it plays: what has sounded stays, what comes has the new rate, and no beat is early or doubled.
import { completeSchedule } from "./create-schedule.ts";
import { BEAT_RATE_LIMITS_SPM } from "../evidence/beats.ts";
import {
  type Rational,
  add,
  compare,
  divide,
  fromDecimal,
  greater,
  lesser,
  multiply,
  rational,
  subtract,
} from "./rational.ts";
import { type BeatSchedule, type BeatSpan } from "./schedule.ts";
import { spmToExactHz } from "./timeline.ts";

/**
 * The schedule with every rate after atS moved by deltaSpm (both feet), held within the permitted rates and, when given,
 * not raised above capSpm. Beats before atS are unchanged; at atS the phase runs on. Block times do not change. During a
 * count-in the change waits until one beat into the block, so that what was counted in is what comes.
 */
export function nudgeBeat(
  schedule: BeatSchedule,
  change: { readonly atS: number; readonly deltaSpm: number; readonly capSpm?: number },
): BeatSchedule {
  const atS = afterCountIn(schedule, fromDecimal(change.atS));
  const delta = spmToExactHz(change.deltaSpm);
  const low = spmToExactHz(BEAT_RATE_LIMITS_SPM.value.low);
  const high = spmToExactHz(Math.min(BEAT_RATE_LIMITS_SPM.value.high, change.capSpm ?? Infinity));
  const moved = (span: BeatSpan): BeatSpan => {
    // A rate that is already above the cap is not lowered by asking for more.
    const shift = (rateHz: BeatSpan["startRateHz"]): BeatSpan["startRateHz"] =>
      greater(low, lesser(add(rateHz, delta), greater(high, lesser(rateHz, add(rateHz, delta)))));
    return { ...span, startRateHz: shift(span.startRateHz), endRateHz: shift(span.endRateHz) };
  };
  const spans = schedule.spans.flatMap((span): readonly BeatSpan[] => {
    if (compare(span.endS, atS) <= 0) return [span];
    if (compare(span.startS, atS) >= 0) return [moved(span)];
    const share = divide(subtract(atS, span.startS), subtract(span.endS, span.startS));
    const rateHz = add(span.startRateHz, multiply(subtract(span.endRateHz, span.startRateHz), share));
    return [
      { ...span, endS: atS, endRateHz: rateHz },
      moved({ ...span, startS: atS, startRateHz: rateHz, opensBlock: false }),
    ];
  });
  return completeSchedule(spans, schedule);
}

function afterCountIn(schedule: BeatSchedule, atS: Rational): Rational {
  const countIn = schedule.segments.find(
    ({ kind, startS, startRateHz, beatCount }) =>
      kind === "count-in" &&
      compare(startS, atS) < 0 &&
      compare(atS, add(startS, divide(rational(BigInt(beatCount)), startRateHz))) <= 0,
  );
  if (countIn === undefined) return atS;
  return add(countIn.startS, divide(rational(BigInt(countIn.beatCount + 1)), countIn.startRateHz));
}
