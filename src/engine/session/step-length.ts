// At the same speed a quicker step is a shorter step: how much shorter, and what a belt's numbers mean.
import { defaultUnits, type DisplayUnits, showShortLength, showStepLength } from "../quantities/display.ts";
import { kmhToMps, stepLengthM } from "../quantities/units.ts";

export interface StepLengthAim {
  readonly beforeM: number;
  readonly afterM: number;
  /** Above 0: how much shorter. */
  readonly shorterM: number;
}

/** Step length at the baseline and at the target, same speed; L = 60 v / f. */
export function stepLengthAim(baselineSpm: number, targetSpm: number, speedMps: number): StepLengthAim {
  const beforeM = stepLengthM(speedMps, baselineSpm);
  const afterM = stepLengthM(speedMps, targetSpm);
  return { beforeM, afterM, shorterM: beforeM - afterM };
}

/** "Steps about 4 cm shorter (1.06 m instead of 1.10 m)." Empty when baseline or speed is unknown or nothing changes. */
export function describeStepLength(
  values: { readonly baselineSpm?: number; readonly targetSpm: number; readonly speedMps?: number },
  units: DisplayUnits = defaultUnits,
): string {
  if (values.baselineSpm === undefined || values.speedMps === undefined) return "";
  const aim = stepLengthAim(values.baselineSpm, values.targetSpm, values.speedMps);
  // Under half a centimetre there is nothing to feel.
  if (aim.shorterM < 0.005) return "";
  return `Steps about ${showShortLength(aim.shorterM, units)} shorter (${showStepLength(aim.afterM, units)} instead of ${showStepLength(aim.beforeM, units)}).`;
}

export interface TreadmillTable {
  readonly stepRatesSpm: readonly number[];
  readonly rows: readonly {
    readonly speedKmh: number;
    readonly speedMps: number;
    /** One per step rate, in their order. */
    readonly stepLengthsM: readonly number[];
  }[];
}

/** Step length for each belt speed and step rate. Speeds km/h as belts show them, step rates both feet, all above 0. */
export function treadmillTable(speedsKmh: readonly number[], stepRatesSpm: readonly number[]): TreadmillTable {
  for (const value of [...speedsKmh, ...stepRatesSpm]) {
    if (!(value > 0)) throw new RangeError(`treadmillTable: speeds and step rates must be above 0, got ${value}`);
  }
  return {
    stepRatesSpm,
    rows: speedsKmh.map((speedKmh) => {
      const speedMps = kmhToMps(speedKmh);
      return { speedKmh, speedMps, stepLengthsM: stepRatesSpm.map((rate) => stepLengthM(speedMps, rate)) };
    }),
  };
}
