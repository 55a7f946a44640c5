import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { settleCadence } from "./feet-of-cadence.ts";

const settle = (cadence: number[], usualSpeedMps = NaN, label?: "one" | "both") =>
  settleCadence({ cadence, usualSpeedMps, ...(label === undefined ? {} : { label }) });
const even = (value: number): number[] => Array.from({ length: 40 }, () => value);

describe("[M3] which feet a cadence counts", () => {
  test.each([
    ["a run, one foot", 85, 3, "one", 170],
    ["a slow jog, one foot", 78, 1.8, "one", 156],
    ["a walk, one foot", 55, 1.4, "one", 110],
    ["a walk, both feet", 108, 1.4, "both", 108],
    ["a brisk walk, both feet", 118, 1.9, "both", 118],
    ["a slow walk, both feet", 95, 1.1, "both", 95],
    ["a run, both feet", 165, 2.8, "both", 165],
    ["a run without speed, one foot", 90, NaN, "one", 180],
    ["a run without speed, both feet", 160, NaN, "both", 160],
  ] as const)("%s", (_, cadence, speed, feet, stepRate) => {
    const settled = settle(even(cadence), speed);
    expect(settled.feetCounted).toBe(feet);
    expect([...settled.stepRateSpm]).toEqual(even(stepRate));
    expect(settled.warnings.map((w) => w.code)).toEqual(feet === "one" ? ["feet-one"] : []);
  });

  test.each([
    [115, NaN],
    [117, 3],
  ])("%d at %d m/s fits neither, so there is no step rate", (cadence, speed) => {
    const settled = settle([...even(cadence), 0], speed);
    expect(settled.feetCounted).toBe("unknown");
    expect([...settled.stepRateSpm]).toEqual([...even(NaN), 0]);
    expect(settled.warnings.map((w) => w.code)).toEqual(["feet-unclear"]);
  });

  test("points that count the other way are settled by themselves, one in between is left out", () => {
    const cadence = [...even(85), 122, 170, 172, ...even(85)];
    const settled = settle(cadence, 3);
    expect([...settled.stepRateSpm.subarray(39, 44)]).toEqual([170, NaN, 170, 172, 170]);
    expect(settled.warnings.map((w) => w.code)).toEqual(["feet-one", "feet-mixed", "cadence-implausible"]);
    expect(settled.warnings[1]!.message).toContain("3 points");
    const halved = settle([...even(170), 85, 88, ...even(170)], 3);
    expect([...halved.stepRateSpm.subarray(39, 43)]).toEqual([170, 170, 176, 170]);
    expect(halved.warnings[0]!.message).toContain("2 points");
  });

  test("a walk break in a both-feet file is not doubled", () => {
    const settled = settle([...even(170), ...even(108), ...even(170)], 2.6);
    expect([...settled.stepRateSpm.subarray(55, 65)]).toEqual(even(108).slice(0, 10));
  });

  test("a label is followed, and queried when its numbers lie on the other side", () => {
    expect(settle(even(85), 3, "both")).toMatchObject({ feetCounted: "both", warnings: [{ code: "feet-query" }] });
    expect(settle(even(85), 3, "both").stepRateSpm[0]).toBe(85);
    expect(settle(even(85), 3, "one")).toMatchObject({ feetCounted: "one", warnings: [] });
    expect(settle(even(108), 1.4, "both").warnings).toEqual([]);
    expect(settle(even(170), 3, "one").warnings[0]!.code).toBe("feet-query");
  });

  test("values that no foot makes are left out", () => {
    const settled = settle([...even(170), -5, 900, 240, NaN], 3);
    expect([...settled.stepRateSpm.subarray(40)]).toEqual([NaN, NaN, NaN, NaN]);
    expect(settled.warnings.map((w) => w.code)).toEqual(["cadence-out-of-range", "cadence-implausible"]);
  });

  test("nothing but standing, and nothing at all", () => {
    expect([...settle([0, 0, 0]).stepRateSpm]).toEqual([0, 0, 0]);
    expect(settle([NaN, NaN])).toMatchObject({ feetCounted: "unknown", warnings: [] });
  });

  test("property: one foot and both feet of the same run come to the same step rate", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 72, max: 98 }), { minLength: 5, maxLength: 60 }),
        fc.double({ min: 2.2, max: 5, noNaN: true }),
        (perFoot, speed) => {
          const one = settle(perFoot, speed);
          const both = settle(
            perFoot.map((value) => 2 * value),
            speed,
          );
          expect([...one.stepRateSpm]).toEqual([...both.stepRateSpm]);
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});
