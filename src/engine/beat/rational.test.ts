import { describe, expect, it } from "vitest";
import { ceil, compare, floor, fromDecimal, multiply, rational, toNumber } from "./rational.ts";

describe("exact fractions", () => {
  it("closed form: a double is read as the decimal it prints as", () => {
    expect(fromDecimal(173.3)).toEqual({ numerator: 1733n, denominator: 10n });
    expect(fromDecimal(-0.125)).toEqual({ numerator: -1n, denominator: 8n });
    expect(fromDecimal(1e-7)).toEqual({ numerator: 1n, denominator: 10_000_000n });
    expect(fromDecimal(1.5e21)).toEqual({ numerator: 15n * 10n ** 20n, denominator: 1n });
    expect(() => fromDecimal(Number.NaN)).toThrow(RangeError);
  });

  it("closed form: floor and ceil on both sides of zero and on whole numbers", () => {
    expect([floor(rational(7n, 2n)), floor(rational(-7n, 2n)), floor(rational(-4n, 2n))]).toEqual([3n, -4n, -2n]);
    expect([ceil(rational(7n, 2n)), ceil(rational(-7n, 2n)), ceil(rational(4n, 2n))]).toEqual([4n, -3n, 2n]);
    expect(compare(rational(1n, 3n), rational(-2n, -6n))).toBe(0);
  });

  it("closed form: fractions with parts too long for a double still become the nearest number", () => {
    const huge = rational(3n ** 3000n, 7n * 3n ** 2999n + 1n);
    expect(toNumber(huge)).toBeCloseTo(3 / 7, 14);
    expect(toNumber(multiply(rational(-1n), rational(10n ** 400n + 1n, 10n ** 400n)))).toBe(-1);
  });
});
