// Unit of acceleration, and whether gravity is in it: from the header where it says so, else from the numbers.
import { fail, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { type AccelerationUnit, MPS2_PER, type MotionHeader } from "./motion-header.ts";

export interface MotionUnits {
  readonly unit: AccelerationUnit;
  readonly gravity: "included" | "removed";
}

/** Length over which the mean acceleration is gravity: whole strides cancel. */
const BLOCK_S = 5;
/** A mean of at least this share of 1 g has gravity in it: a swinging limb loses some, nothing else adds any. */
const GRAVITY_SHARE = 0.45;
/** Without a unit the mean must be this close to 1 g in one unit. */
const SURE_SHARE = { low: 0.6, high: 1.35 };

/** `axes` in the file's unit. */
export function settleUnits(
  timeS: Float64Array,
  axes: readonly Float64Array[],
  header: MotionHeader,
  fileName: string,
): Result<MotionUnits> {
  const mean = typicalMean(timeS, axes);
  const warnings: Warning[] = [];
  let unit = header.unit;
  if (unit === undefined) {
    unit = (["mps2", "g", "mg"] as const).find((candidate) => {
      const share = (mean * MPS2_PER[candidate]) / STANDARD_GRAVITY_MPS2;
      return share >= SURE_SHARE.low && share <= SURE_SHARE.high;
    });
    if (unit === undefined || header.gravity === "removed")
      return fail({
        code: "motion-unit-unknown",
        where: { file: fileName, column: header.axisNames[0] },
        got: `no unit in the header, and a mean of ${mean.toPrecision(3)} that is not gravity in m/s² or g`,
        expected: "the unit of acceleration",
        remedy: 'Name the columns with their unit, such as "x_mps2" or "x_g".',
      });
    warnings.push({
      code: "motion-unit-found",
      message: `The acceleration was taken as ${UNIT_NAME[unit]}: its mean is ${mean.toPrecision(3)}, which is gravity.`,
    });
  }
  const share = (mean * MPS2_PER[unit]) / STANDARD_GRAVITY_MPS2;
  const gravity = header.gravity ?? (share >= GRAVITY_SHARE ? "included" : "removed");
  if (header.gravity === undefined)
    warnings.push({
      code: `motion-gravity-${gravity}`,
      message: `Gravity is ${gravity === "included" ? "part of" : "not in"} the numbers: their mean is ${share.toFixed(2)} g.`,
    });
  return succeed({ unit, gravity }, warnings);
}

const UNIT_NAME: Readonly<Record<AccelerationUnit, string>> = { mps2: "m/s²", g: "g", mg: "thousandths of g" };

/** Median over blocks of the length of the mean vector. */
function typicalMean(timeS: Float64Array, axes: readonly Float64Array[]): number {
  const lengths: number[] = [];
  let sums = [0, 0, 0];
  let count = 0;
  let startS = 0;
  const close = (): void => {
    if (count > 0) lengths.push(Math.hypot(...sums) / count);
    sums = [0, 0, 0];
    count = 0;
  };
  for (let i = 0; i < timeS.length; i += 1) {
    if (timeS[i]! - startS >= BLOCK_S) {
      close();
      startS = timeS[i]!;
    }
    const [x, y, z] = [axes[0]![i]!, axes[1]![i]!, axes[2]![i]!];
    if (Number.isNaN(x + y + z)) continue;
    sums[0]! += x;
    sums[1]! += y;
    sums[2]! += z;
    count += 1;
  }
  close();
  lengths.sort((a, b) => a - b);
  return lengths[lengths.length >> 1] ?? 0;
}
