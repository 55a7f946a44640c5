// Butterworth filters as second-order sections, designed by prewarped bilinear transform of the analog prototype.

/** b0 b1 b2 a1 a2 of each section (a0 = 1), five numbers a section. */
export interface SecondOrderSections {
  readonly coefficients: Float64Array;
  readonly sectionCount: number;
  /** Sections that are really first-order (b2 = a2 = 0): at most one. */
  readonly firstOrderCount: number;
}

export type FilterBand =
  | { readonly kind: "low-pass" | "high-pass"; readonly cutoffHz: number }
  | { readonly kind: "band-pass"; readonly lowHz: number; readonly highHz: number };

interface Complex {
  readonly re: number;
  readonly im: number;
}

/**
 * Butterworth filter of `order` 1–12 for a signal at `sampleRateHz`; cut-offs strictly between 0 and half the rate.
 * A band-pass has twice the order, as is usual. Same transfer function as scipy.signal.butter (checked to 1e-9).
 */
export function designButterworth(order: number, band: FilterBand, sampleRateHz: number): SecondOrderSections {
  if (!Number.isInteger(order) || order < 1 || order > 12)
    throw new RangeError(`designButterworth: order must be an integer in [1, 12], got ${order}`);
  const warp = (hz: number): number => {
    if (!(hz > 0 && hz < sampleRateHz / 2))
      throw new RangeError(`designButterworth: cut-off must be in (0, ${sampleRateHz / 2}) Hz, got ${hz}`);
    return Math.tan((Math.PI * hz) / sampleRateHz); // s-plane with bilinear s = (z − 1)/(z + 1)
  };
  const analogPoles = prototypePoles(order);
  if (band.kind === "band-pass") {
    const low = warp(band.lowHz);
    const high = warp(band.highHz);
    if (low >= high) throw new RangeError(`designButterworth: lowHz must be below highHz`);
    const width = high - low;
    const poles = analogPoles.flatMap((pole) => bandPassPoles(pole, width, low * high));
    // Gain of s^N·width^N / ∏(s − p) at the centre is 1 by construction; fix it after the bilinear map.
    const centreHz = (Math.atan(Math.sqrt(low * high)) * sampleRateHz) / Math.PI;
    return toSections(poles.map(bilinear), "band-pass", (2 * Math.PI * centreHz) / sampleRateHz);
  }
  const cutoff = warp(band.cutoffHz);
  const poles = analogPoles.map((pole) =>
    band.kind === "low-pass" ? { re: pole.re * cutoff, im: pole.im * cutoff } : divide({ re: cutoff, im: 0 }, pole),
  );
  return toSections(poles.map(bilinear), band.kind, band.kind === "low-pass" ? 0 : Math.PI);
}

/** Upper half plane and real poles of the unit prototype; the conjugates are implied. */
function prototypePoles(order: number): Complex[] {
  const poles: Complex[] = [];
  for (let k = 0; 2 * k + 1 <= order; k += 1) {
    const angle = (Math.PI * (2 * k + 1 + order)) / (2 * order);
    const real = 2 * k + 1 === order;
    poles.push({ re: real ? -1 : Math.cos(angle), im: real ? 0 : Math.sin(angle) });
  }
  return poles;
}

/** Roots of s² − p·width·s + centre², for one prototype pole; conjugates dropped again. */
function bandPassPoles(pole: Complex, width: number, centreSquared: number): Complex[] {
  const half = { re: (pole.re * width) / 2, im: (pole.im * width) / 2 };
  const root = squareRoot({ re: half.re ** 2 - half.im ** 2 - centreSquared, im: 2 * half.re * half.im });
  const plus = { re: half.re + root.re, im: half.im + root.im };
  const minus = { re: half.re - root.re, im: half.im - root.im };
  if (pole.im !== 0) return [plus, minus].map((p) => ({ re: p.re, im: Math.abs(p.im) }));
  // A real prototype pole gives one conjugate pair, or two real poles when the band is wide.
  return root.im !== 0 ? [{ re: plus.re, im: Math.abs(plus.im) }] : [plus, minus];
}

function bilinear(pole: Complex): Complex {
  return divide({ re: 1 + pole.re, im: pole.im }, { re: 1 - pole.re, im: -pole.im });
}

function toSections(poles: readonly Complex[], kind: FilterBand["kind"], unityAngleRad: number): SecondOrderSections {
  const reals = poles.filter((pole) => pole.im === 0);
  const pairs = poles.filter((pole) => pole.im !== 0);
  const rows: number[][] = [];
  let firstOrderCount = 0;
  const zero = kind === "high-pass" ? 1 : -1;
  for (let i = 0; i < reals.length; i += 2) {
    const first = reals[i]!.re;
    const second = reals[i + 1]?.re;
    if (second === undefined) {
      rows.push([1, -zero, 0, -first, 0]);
      firstOrderCount += 1;
    } else rows.push([1, 0, -1, -(first + second), first * second]);
  }
  for (const pole of pairs) {
    const numerator = kind === "band-pass" ? [1, 0, -1] : [1, -2 * zero, 1];
    rows.push([...numerator, -2 * pole.re, pole.re ** 2 + pole.im ** 2]);
  }
  // Poles nearest the unit circle last, so that earlier sections do not ring with gain that is later taken away.
  rows.sort((a, b) => a[4]! - b[4]!);
  for (const row of rows) {
    const gain = responseMagnitude(row, unityAngleRad);
    for (let i = 0; i < 3; i += 1) row[i] = row[i]! / gain;
  }
  return { coefficients: Float64Array.from(rows.flat()), sectionCount: rows.length, firstOrderCount };
}

function responseMagnitude(row: readonly number[], angle: number): number {
  const at = (c0: number, c1: number, c2: number): number =>
    Math.hypot(c0 + c1 * Math.cos(angle) + c2 * Math.cos(2 * angle), c1 * Math.sin(angle) + c2 * Math.sin(2 * angle));
  return at(row[0]!, row[1]!, row[2]!) / at(1, row[3]!, row[4]!);
}

function divide(a: Complex, b: Complex): Complex {
  const norm = b.re ** 2 + b.im ** 2;
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm };
}

function squareRoot(a: Complex): Complex {
  const modulus = Math.hypot(a.re, a.im);
  const re = Math.sqrt((modulus + a.re) / 2);
  const im = Math.sqrt((modulus - a.re) / 2);
  return { re, im: a.im < 0 ? -im : im };
}
