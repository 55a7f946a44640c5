import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { slopeOverDistance } from "./slope.ts";

describe("slope", () => {
  test("closed form: an even hill has its slope everywhere", () => {
    const distanceM = Float64Array.from({ length: 300 }, (_, i) => 3 * i);
    const slope = slopeOverDistance(
      distanceM,
      distanceM.map((d) => 50 + 0.04 * d),
    );
    expectClose(
      slope,
      distanceM.map(() => 0.04),
      { atol: 1e-9, because: "running sums" },
    );
  });

  test("slow twin: a least-squares line through each neighbourhood", () => {
    const random = createRandom(8);
    const distanceM = Float64Array.from({ length: 200 }, (_, i) => 3 * i + random.next());
    const elevationM = distanceM.map((d) => 20 * Math.sin(d / 150) + 0.3 * random.normal());
    const expected = Array.from(distanceM, (here) => {
      const near = [...distanceM.keys()].filter((i) => Math.abs(distanceM[i]! - here) <= 50);
      const mx = near.reduce((sum, i) => sum + distanceM[i]!, 0) / near.length;
      const my = near.reduce((sum, i) => sum + elevationM[i]!, 0) / near.length;
      const xx = near.reduce((sum, i) => sum + (distanceM[i]! - mx) ** 2, 0);
      return near.reduce((sum, i) => sum + (distanceM[i]! - mx) * (elevationM[i]! - my), 0) / xx;
    });
    const slope = slopeOverDistance(distanceM, elevationM);
    const known = [...slope.keys()].filter((i) => !Number.isNaN(slope[i]!));
    expect(known.length).toBeGreaterThan(150);
    expectClose(
      known.map((i) => slope[i]!),
      known.map((i) => expected[i]!),
      { atol: 1e-9, because: "running sums" },
    );
  });

  test("too little ground, too much noise, or no elevation: unknown", () => {
    const random = createRandom(8);
    const distanceM = Float64Array.from({ length: 100 }, (_, i) => 3 * i);
    const all = (values: Float64Array): boolean => values.every((value) => Number.isNaN(value));
    expect(
      all(
        slopeOverDistance(
          distanceM.map((d) => d / 10),
          distanceM,
        ),
      ),
    ).toBe(true);
    expect(
      all(
        slopeOverDistance(
          distanceM,
          distanceM.map(() => NaN),
        ),
      ),
    ).toBe(true);
    // Standard error √(σ² n / (n_eff − 2) / Sxx) = √(4 · 33 / 8 / 27,500) = 2.4 %, above the 1 % that is shown.
    const uneasy = slopeOverDistance(
      distanceM,
      distanceM.map(() => 2 * random.normal()),
    );
    expect([...uneasy].filter((value) => !Number.isNaN(value)).length).toBeLessThan(5);
    const noisy = slopeOverDistance(
      distanceM,
      distanceM.map(() => 30 * random.normal()),
    );
    expect([...noisy].filter((value) => !Number.isNaN(value)).length).toBeLessThan(5);
  });

  test("property: raising the ground or the start changes nothing", () => {
    const base = Float64Array.from({ length: 120 }, (_, i) => 2.9 * i);
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 5000 }), fc.integer({ min: 0, max: 40_000 }), (up, along) => {
        const hill = base.map((d) => 15 * Math.cos(d / 200));
        const there = slopeOverDistance(
          base.map((d) => d + along),
          hill.map((e) => e + up),
        );
        expectClose(there, slopeOverDistance(base, hill), { atol: 1e-6, because: "running sums over 40 km" });
      }),
      { seed: 4, numRuns: 50 },
    );
  });
});
