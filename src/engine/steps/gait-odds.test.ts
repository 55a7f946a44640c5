// Running or walking by the bounce of a step: what flight must give, what walking cannot, and the open middle.
import { describe, expect, it } from "vitest";
import { gaitOf, runningLogOdds } from "./gait-odds.ts";

const alike = (rmsMps2: number) => ({ rmsMps2, stepShare: 0.9, strideShare: 0.95 });
const limb = (rmsMps2: number) => ({ rmsMps2, stepShare: 0.35, strideShare: 0.9 });

/** A half-sine force over the share c of a step that carries body weight on the mean: root mean square of force less weight. */
const flightBounce = (c: number) => 9.80665 * Math.sqrt(Math.PI ** 2 / (8 * c) - 1);

describe("gaitOf", () => {
  it("closed form: the bounce of a half-sine contact, from a shuffle to a long flight, is running at every rate it can have", () => {
    expect(flightBounce(0.86)).toBeCloseTo(6.46, 2);
    for (const c of [0.6, 0.7, 0.8, 0.86])
      for (const rate of [125, 135, 145, 160, 200]) {
        const gait = gaitOf(rate, alike(flightBounce(c) / Math.sqrt(0.9)));
        if (c <= 0.7 || rate >= 145) expect(gait, `c ${c} at ${rate}`).toBe("running");
        // The longest contacts at the slowest rates are hardly more than a brisk walk's.
        else expect(gait).not.toBe("walking");
      }
  });
  it("a trunk lifted as by brisk walking is walking up to 135 a minute", () => {
    for (const rate of [70, 105, 115, 125, 135]) expect(gaitOf(rate, alike(2.6 * (rate / 105) ** 2))).toBe("walking");
  });
  it("a limb whose bounce fits both is left open", () => {
    for (const rate of [125, 130, 135]) expect(gaitOf(rate, limb(13))).toBe("unknown");
  });
  it("the ranges decide alone where only one gait has the rate, save that running has a flight", () => {
    expect(gaitOf(105, alike(9))).toBe("walking");
    expect(gaitOf(165, alike(9))).toBe("running");
    expect(gaitOf(165, limb(11))).toBe("running");
    expect(gaitOf(170, alike(2.5))).toBe("unknown");
  });
  it("property: a stronger bounce never speaks against running, up to running's own", () => {
    for (const rate of [115, 125, 135, 145])
      for (let rms = 1; rms < 8; rms += 0.25)
        expect(runningLogOdds(rate, alike(rms + 0.25))).toBeGreaterThan(runningLogOdds(rate, alike(rms)));
  });
  it("no energy at all is an answer too", () => {
    expect(gaitOf(130, { rmsMps2: 0, stepShare: 0, strideShare: 0 })).toBe("walking");
    expect(gaitOf(170, { rmsMps2: 0, stepShare: 0, strideShare: 0 })).toBe("unknown");
  });
});
