// A rate from taps in time with one foot, with an honest error.
import type { NotEnough } from "../../engine/quantities/uncertain.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { bothFeetSpm } from "../../engine/quantities/feet.ts";

export interface TapRate {
  /** Both feet, when one foot was tapped. */
  readonly stepRateSpm: number;
  readonly standardErrorSpm: number;
  /** Contacts between the first tap and the last, a missed tap counted. */
  readonly contactCount: number;
  readonly seconds: number;
}

const LEAST_TAPS = 6;
/** A pause this many times the usual interval is a tap or two missed; more than four is a stop. */
const LONGEST_PAUSE = 4.5;

/**
 * Step rate (both feet) from the times of taps, one for each contact of one foot, in seconds, ascending. Taps later than
 * a pause of 4.5 intervals start afresh. An interval near a whole multiple of the usual one counts as so many contacts
 * (a missed tap); one shorter than half is a double tap and is left out.
 *
 * The rate is (contacts)/(last − first). Its error is the larger of two readings of the same scatter: a thumb that is
 * early or late anew at each tap moves only the ends, √2·s/T with s the sd of the intervals over √2; a stride that
 * really wanders adds up like a random walk, sd/√n of the mean interval. Neither is known, so the worse one counts.
 */
export function tapRate(tapTimesS: readonly number[]): TapRate | NotEnough {
  const { taps, medianS } = lastStretch(tapTimesS);
  const first = taps[0];
  const last = taps.at(-1);
  if (taps.length < LEAST_TAPS || first === undefined || last === undefined)
    return { kind: "not-enough", need: `${LEAST_TAPS} even taps`, have: `${taps.length}` };
  let contactCount = 0;
  const unitIntervalsS: number[] = [];
  for (let index = 1; index < taps.length; index += 1) {
    const gapS = (taps[index] ?? 0) - (taps[index - 1] ?? 0);
    const contacts = Math.max(1, Math.round(gapS / medianS));
    contactCount += contacts;
    unitIntervalsS.push(gapS / contacts);
  }
  const seconds = last - first;
  const meanS = seconds / contactCount;
  const spreadS = Math.sqrt(
    unitIntervalsS.reduce((sum, gapS) => sum + (gapS - meanS) ** 2, 0) / (unitIntervalsS.length - 1),
  );
  const stepRateSpm = bothFeetSpm({ value: SECONDS_PER_MINUTE / meanS, feet: "one" });
  const wandering = spreadS / meanS / Math.sqrt(unitIntervalsS.length);
  const unsteadyThumb = spreadS / seconds;
  return {
    stepRateSpm,
    standardErrorSpm: stepRateSpm * Math.max(wandering, unsteadyThumb),
    contactCount,
    seconds,
  };
}

/** Without double taps, from the last stop on. */
function lastStretch(tapTimesS: readonly number[]): { readonly taps: readonly number[]; readonly medianS: number } {
  const gaps = tapTimesS.slice(1).map((timeS, index) => timeS - (tapTimesS[index] ?? timeS));
  const sorted = gaps.toSorted((a, b) => a - b);
  const medianS = sorted[Math.floor(sorted.length / 2)] ?? 0;
  let taps: number[] = [];
  for (const timeS of tapTimesS) {
    const before = taps.at(-1);
    if (before !== undefined && timeS - before < medianS / 2) continue;
    if (before !== undefined && timeS - before > LONGEST_PAUSE * medianS) taps = [];
    taps.push(timeS);
  }
  return { taps, medianS };
}

/** Sure enough to stop by itself: half of what a baseline may have (rule M1), over at least twenty taps. */
export function isSure(rate: TapRate, limitSpm: number): boolean {
  return rate.contactCount >= 20 && rate.standardErrorSpm <= limitSpm / 2;
}
