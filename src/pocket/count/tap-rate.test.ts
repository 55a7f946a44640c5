import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../engine/quantities/random.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { isSure, tapRate, type TapRate } from "./tap-rate.ts";

const even = (count: number, intervalS: number): number[] =>
  Array.from({ length: count }, (_, k) => 10 + k * intervalS);

function rated(taps: readonly number[]): TapRate {
  const rate = tapRate(taps);
  if ("kind" in rate) throw new Error(`not enough: ${rate.have}`);
  return rate;
}

describe("tap along", () => {
  it("closed form: one foot every 0.75 s is 80 per foot, 160 both feet, with no error", () => {
    const rate = rated(even(21, 0.75));
    expectClose(rate.stepRateSpm, 160, { atol: 1e-9, because: "120/0.75" });
    expectClose(rate.standardErrorSpm, 0, { atol: 1e-9, because: "even taps" });
    expect(rate).toMatchObject({ contactCount: 20, seconds: 15 });
  });

  it("a missed tap and a double tap change nothing", () => {
    const taps = even(31, 0.7);
    const spoiled = [...taps.slice(0, 8), (taps[7] ?? 0) + 0.08, ...taps.slice(9)];
    expectClose(rated(spoiled).stepRateSpm, rated(taps).stepRateSpm, { rtol: 1e-9, because: "both are recognised" });
    expect(rated(spoiled).contactCount).toBe(30);
  });

  it("taps after a stop start afresh", () => {
    const before = even(12, 0.9);
    const after = even(12, 0.7).map((timeS) => timeS + 30);
    expectClose(rated([...before, ...after]).stepRateSpm, 120 / 0.7, { rtol: 1e-9, because: "only the last stretch" });
  });

  it("says how much is missing instead of guessing", () => {
    expect(tapRate(even(5, 0.7))).toEqual({ kind: "not-enough", need: "6 even taps", have: "5" });
    expect(tapRate([])).toMatchObject({ kind: "not-enough" });
  });

  it("stops when sure: after twenty contacts with a small error, never before", () => {
    expect(isSure(rated(even(20, 0.7)), 2)).toBe(false);
    expect(isSure(rated(even(21, 0.7)), 2)).toBe(true);
    const uneven = even(21, 0.7).map((timeS, k) => timeS + (k % 3 === 0 ? 0.08 : 0));
    expect(isSure(rated(uneven), 2)).toBe(false);
  });

  it("simulation: with a thumb of 25 ms the true rate lies within 2.6 standard errors in at least 97 of 100 runs", () => {
    let inside = 0;
    const runs = 400;
    fc.assert(
      fc.property(
        fc.double({ min: 70, max: 105, noNaN: true }),
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 120, maxLength: 120 }),
        (perFoot, noise) => {
          // The sum of four even draws on ±1 has sd 2/√3.
          const thumb = (k: number): number =>
            (0.025 * [0, 1, 2, 3].reduce((sum, part) => sum + (noise[4 * k + part] ?? 0), 0)) / (2 / Math.sqrt(3));
          const taps = Array.from({ length: 30 }, (_, k) => (60 / perFoot) * k + thumb(k));
          const rate = rated(taps);
          if (Math.abs(rate.stepRateSpm - 2 * perFoot) <= 2.6 * rate.standardErrorSpm) inside += 1;
        },
      ),
      { seed: 11, numRuns: runs },
    );
    // 97 % less three Monte-Carlo errors of sqrt(0.97·0.03/400) = 0.9 %.
    expect(inside / runs).toBeGreaterThan(0.97 - 0.026);
  });

  it("simulation: with a stride that wanders by 2 % and a perfect thumb, 1.96 standard errors hold the truth in 93 to 98 of 100 runs", () => {
    let inside = 0;
    const runs = 2000;
    const random = createRandom(23);
    for (let run = 0; run < runs; run += 1) {
      const perFoot = 70 + 35 * random.next();
      let timeS = 0;
      const taps = Array.from({ length: 60 }, (_, k) =>
        k === 0 ? 0 : (timeS += (60 / perFoot) * (1 + 0.02 * random.normal())),
      );
      const rate = rated(taps);
      if (Math.abs(rate.stepRateSpm - 2 * perFoot) <= 1.96 * rate.standardErrorSpm) inside += 1;
    }
    // 95 % of a normal law, with 0.5 % of Monte-Carlo error.
    expect(inside / runs).toBeGreaterThan(0.93);
    expect(inside / runs).toBeLessThan(0.98);
  });
});
