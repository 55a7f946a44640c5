// Exact fractions, so that a day of beats has no drift: 173.3 is 1733/10, not the nearest binary number.

export interface Rational {
  readonly numerator: bigint;
  /** Always positive, and without a common factor with the numerator. */
  readonly denominator: bigint;
}

function gcd(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b;
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

export function rational(numerator: bigint, denominator = 1n): Rational {
  if (denominator === 0n) throw new RangeError("rational: denominator must not be 0");
  const sign = denominator < 0n ? -1n : 1n;
  const factor = gcd(numerator, sign * denominator) * sign;
  return { numerator: numerator / factor, denominator: denominator / factor };
}

export const ZERO = rational(0n);

/** The decimal number that a person would read off `value` (its shortest form), as a fraction. Finite only. */
export function fromDecimal(value: number): Rational {
  const match = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(value));
  if (match === null) throw new RangeError(`fromDecimal: value must be finite, got ${value}`);
  const [, sign = "", whole = "0", fraction = "", exponent = "0"] = match;
  const digits = BigInt(`${sign}${whole}${fraction}`);
  const power = Number(exponent) - fraction.length;
  return power >= 0 ? rational(digits * 10n ** BigInt(power)) : rational(digits, 10n ** BigInt(-power));
}

export function add(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.denominator + b.numerator * a.denominator, a.denominator * b.denominator);
}

export function subtract(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.denominator - b.numerator * a.denominator, a.denominator * b.denominator);
}

export function multiply(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.numerator, a.denominator * b.denominator);
}

export function divide(a: Rational, b: Rational): Rational {
  return rational(a.numerator * b.denominator, a.denominator * b.numerator);
}

/** Negative when a < b, 0 when equal, positive when a > b. */
export function compare(a: Rational, b: Rational): number {
  const difference = a.numerator * b.denominator - b.numerator * a.denominator;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

export function lesser(a: Rational, b: Rational): Rational {
  return compare(a, b) <= 0 ? a : b;
}

export function greater(a: Rational, b: Rational): Rational {
  return compare(a, b) >= 0 ? a : b;
}

export function floor(a: Rational): bigint {
  const quotient = a.numerator / a.denominator;
  return a.numerator < 0n && quotient * a.denominator !== a.numerator ? quotient - 1n : quotient;
}

export function ceil(a: Rational): bigint {
  return -floor({ numerator: -a.numerator, denominator: a.denominator });
}

const SAFE_BITS = 1000;

/** Nearest double, within 2 units in the last place, also when both parts are too long for a double. */
export function toNumber(a: Rational): number {
  const digits = Math.max(a.numerator.toString(16).length, a.denominator.toString(16).length);
  const excess = BigInt(Math.max(0, 4 * digits - SAFE_BITS));
  return Number(a.numerator >> excess) / Number(a.denominator >> excess);
}
