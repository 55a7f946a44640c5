// Which feet a file's cadence counts: told apart from the numbers, said aloud, settled point by point.
import { bothFeetSpm, FEET_RANGE_SPM, type Feet } from "../quantities/feet.ts";
import type { Warning } from "../quantities/problem.ts";
import { stepLengthM } from "../quantities/units.ts";
import type { FeetCounted } from "./recording.ts";
import { counted } from "./wording.ts";

export interface CadenceSeries {
  /** Raw cadence; NaN where missing, 0 where standing. */
  readonly cadence: readonly number[];
  /** Typical speed while the cadence was not zero; NaN when unknown. */
  readonly usualSpeedMps: number;
  /** What the file itself says it counted, when it says. */
  readonly label?: Feet;
}

export interface SettledCadence {
  /** Both feet; NaN where missing or unusable, 0 where standing. */
  readonly stepRateSpm: Float64Array;
  readonly feetCounted: FeetCounted;
  readonly warnings: readonly Warning[];
}

/** Above this a cadence is a fault of the sensor, whichever feet it counts. */
const HIGHEST_CADENCE = 300;
/** Between the per-foot and the both-feet range of running. */
const DIVIDE_SPM = (FEET_RANGE_SPM.one.high + FEET_RANGE_SPM.both.low) / 2;
/** Nobody walks in steps this long; whoever runs at half that rate takes longer ones. */
const LONGEST_WALKING_STEP_M = 1;
/** "About twice": room for the wobble of both values. */
const LEAST_DOUBLE = 1.7;
const MOST_DOUBLE = 2.4;
/** Points looked at on each side when one point is judged by its neighbours. */
const NEIGHBOURS = 15;

/**
 * Step rate, both feet, from a file's cadence.
 *
 * A label in the file is taken at its word and queried when its numbers lie in the other range (rule M3). Without one:
 * median at or above 115 means both feet. Below it, read as both feet, the step would be 60 · speed / cadence long:
 * above 1 m it must have been one foot (doubled), else it is a walk with both feet counted. With no speed known, a median
 * up to 110 is taken as one foot, and said. A single point that counts the other way (in the other range, about twice
 * or half its neighbours) is settled by itself and reported; what comes out above 220 spm is left out and reported.
 */
export function settleCadence(series: CadenceSeries): SettledCadence {
  const warnings: Warning[] = [];
  const raw = Float64Array.from(series.cadence, (value) => (value >= 0 && value <= HIGHEST_CADENCE ? value : NaN));
  const faulty = series.cadence.filter((value) => value < 0 || value > HIGHEST_CADENCE).length;
  if (faulty > 0)
    warnings.push({
      code: "cadence-out-of-range",
      message: `${counted(faulty, "cadence value")} below 0 or above ${HIGHEST_CADENCE} left out.`,
    });
  const moving = [...raw].filter((value) => value > 0).sort((a, b) => a - b);
  if (moving.length === 0) return { stepRateSpm: raw, feetCounted: series.label ?? "unknown", warnings };
  const median = moving[Math.floor(moving.length / 2)]!;

  const judged = series.label ?? judge(median, series.usualSpeedMps);
  if (judged === undefined) {
    warnings.push({
      code: "feet-unclear",
      message: `A cadence around ${Math.round(median)} fits neither one foot nor both feet, so no step rate was taken from it.`,
    });
    return { stepRateSpm: raw.map((value) => (value === 0 ? 0 : NaN)), feetCounted: "unknown", warnings };
  }
  warnings.push(...describeJudgement(series, median, judged));
  const { stepRateSpm, otherWayCount, neitherCount } = convert(raw, judged);
  if (otherWayCount > 0)
    warnings.push({
      code: "feet-mixed",
      message: `${counted(otherWayCount, "point")} counting ${feetName(judged === "one" ? "both" : "one")} in a file that counts ${feetName(judged)}; each was settled by itself.`,
    });
  if (neitherCount > 0)
    warnings.push({
      code: "cadence-implausible",
      message: `${counted(neitherCount, "cadence value")} left out: they fit neither the points around them nor running (${FEET_RANGE_SPM.both.high} spm at most).`,
    });
  return { stepRateSpm, feetCounted: judged, warnings };
}

function feetName(feet: Feet): string {
  return feet === "one" ? "one foot" : "both feet";
}

function judge(median: number, usualSpeedMps: number): Feet | undefined {
  if (Number.isFinite(usualSpeedMps)) {
    if (median >= FEET_RANGE_SPM.both.low) return "both";
    const oneFoot = stepLengthM(usualSpeedMps, median) > LONGEST_WALKING_STEP_M;
    if (!oneFoot) return "both";
    return median < DIVIDE_SPM ? "one" : undefined;
  }
  if (median >= FEET_RANGE_SPM.both.low) return "both";
  return median <= FEET_RANGE_SPM.one.high ? "one" : undefined;
}

function describeJudgement(series: CadenceSeries, median: number, judged: Feet): Warning[] {
  const around = Math.round(median);
  if (series.label === undefined)
    return judged === "one"
      ? [{ code: "feet-one", message: `The file's cadence is around ${around}: one foot. It was doubled.` }]
      : [];
  const expected = judge(median, series.usualSpeedMps);
  if (expected === undefined || expected === series.label) return [];
  return [
    {
      code: "feet-query",
      message: `The file says that its cadence counts ${feetName(series.label)}, but ${around} is usual for ${feetName(expected)}. Which was counted? The label was followed.`,
    },
  ];
}

function convert(
  raw: Float64Array,
  feet: Feet,
): { stepRateSpm: Float64Array; otherWayCount: number; neitherCount: number } {
  const { one, both } = FEET_RANGE_SPM;
  let otherWayCount = 0;
  let neitherCount = 0;
  const stepRateSpm = raw.map((value, index) => {
    if (!(value > 0)) return value;
    let stepRate = bothFeetSpm({ value, feet });
    if (feet === "one" && value >= both.low && value <= both.high) {
      otherWayCount += 1;
      // A point half-way between is a sensor's own average over the change from one to the other.
      stepRate = value < LEAST_DOUBLE * usualAround(raw, index) ? NaN : value;
    } else if (feet === "both" && value >= one.low && value <= one.high) {
      const ratio = usualAround(raw, index) / value;
      if (ratio > LEAST_DOUBLE && ratio < MOST_DOUBLE) {
        otherWayCount += 1;
        stepRate = bothFeetSpm({ value, feet: "one" });
      }
    }
    if (stepRate <= both.high) return stepRate;
    neitherCount += 1;
    return NaN;
  });
  return { stepRateSpm, otherWayCount, neitherCount };
}

/** Median of the moving neighbours, the point itself left out; NaN when there are none. */
function usualAround(raw: Float64Array, index: number): number {
  const around: number[] = [];
  for (let i = Math.max(0, index - NEIGHBOURS); i <= Math.min(raw.length - 1, index + NEIGHBOURS); i += 1)
    if (i !== index && raw[i]! > 0) around.push(raw[i]!);
  around.sort((a, b) => a - b);
  return around.length === 0 ? NaN : around[Math.floor(around.length / 2)]!;
}
