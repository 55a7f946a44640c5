// One comparison for numbers: element by element, the worst element reported, and always a reason for the tolerance.
import { expect } from "vitest";

export interface CloseOptions {
  /** Relative tolerance, as a share of |expected|. */
  readonly rtol?: number;
  /** Absolute tolerance, in the unit of the numbers. */
  readonly atol?: number;
  /** Why this tolerance: the requirement or the source's precision. */
  readonly because: string;
}

/** Fails when any |actual − expected| exceeds atol + rtol·|expected|. NaN equals only NaN. */
export function expectClose(
  actual: number | ArrayLike<number>,
  expected: number | ArrayLike<number>,
  options: CloseOptions,
): void {
  const got = typeof actual === "number" ? [actual] : Array.from(actual);
  const want = typeof expected === "number" ? [expected] : Array.from(expected);
  expect(got.length, "same number of elements").toBe(want.length);
  let worst = { index: -1, excess: 0 };
  for (let index = 0; index < want.length; index += 1) {
    const a = got[index]!;
    const e = want[index]!;
    if (Object.is(a, e) || (Number.isNaN(a) && Number.isNaN(e))) continue;
    const allowed = (options.atol ?? 0) + (options.rtol ?? 0) * Math.abs(e);
    const excess = Math.abs(a - e) - allowed;
    if (!(excess <= 0) && !(excess <= worst.excess))
      worst = { index, excess: Number.isNaN(excess) ? Infinity : excess };
  }
  if (worst.index >= 0) {
    const a = got[worst.index]!;
    const e = want[worst.index]!;
    expect.fail(
      `worst at index ${worst.index}: got ${a}, expected ${e}, difference ${a - e}, rtol ${options.rtol ?? 0}, atol ${options.atol ?? 0} (${options.because})`,
    );
  }
}
