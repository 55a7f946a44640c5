// A step rate holds at a speed. Rule T7: f(v) = f(v0) · (v/v0)^β, and step length follows from the identity L = 60 v / f.
import { paceSPerKm, speedFromPaceSPerKm, stepLengthM } from "../quantities/units.ts";

export interface PaceRow {
  readonly speedMps: number;
  /** Both feet. */
  readonly stepRateSpm: number;
  readonly stepLengthM: number;
}

/**
 * Step rate at another speed by the power law, both feet. Speeds in m/s, positive; exponent as given, 0.15 by default
 * elsewhere. Holds between easy and threshold speed; above about 180 spm runners add speed by step rate instead.
 */
export function stepRateAtSpeed(stepRateSpm: number, fromMps: number, toMps: number, exponent: number): number {
  if (!(fromMps > 0) || !(toMps > 0))
    throw new RangeError(`stepRateAtSpeed: speeds must be above 0 m/s, got ${fromMps} and ${toMps}`);
  return stepRateSpm * (toMps / fromMps) ** exponent;
}

/** The target as a small table: whole quarter minutes of pace around the reference, and the reference itself; slow first. */
export function paceTable(
  targetSpm: number,
  referenceMps: number,
  options: { readonly exponent: number; readonly paceStepS?: number; readonly rowsEachSide?: number },
): PaceRow[] {
  const paceStepS = options.paceStepS ?? 15;
  const rowsEachSide = options.rowsEachSide ?? 3;
  const centreS = paceSPerKm(referenceMps);
  const paces = new Set<number>([centreS]);
  const nearest = Math.round(centreS / paceStepS) * paceStepS;
  for (let row = -rowsEachSide; row <= rowsEachSide; row += 1) {
    const paceS = nearest + row * paceStepS;
    // A row closer than a third of a step to the reference says the same twice.
    if (paceS > 0 && Math.abs(paceS - centreS) > paceStepS / 3) paces.add(paceS);
  }
  const speeds = [...paces].map(speedFromPaceSPerKm).sort((a, b) => a - b);
  return paceRows(targetSpm, referenceMps, speeds, options.exponent);
}

/** The target at speeds of the coach's own choosing, in the order given. */
export function paceRows(
  targetSpm: number,
  referenceMps: number,
  speedsMps: readonly number[],
  exponent: number,
): PaceRow[] {
  return speedsMps.map((speedMps) => {
    const rate = stepRateAtSpeed(targetSpm, referenceMps, speedMps, exponent);
    return { speedMps, stepRateSpm: rate, stepLengthM: stepLengthM(speedMps, rate) };
  });
}
