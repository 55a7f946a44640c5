// The invented runner obeys physics and does what it was asked.
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { STANDARD_GRAVITY_MPS2 } from "../quantities/units.ts";
import { moveBody, type Placement } from "./body-motion.ts";
import { layGaitTimeline } from "./gait-timeline.ts";
import { makeSyntheticMotion } from "./synthetic-motion.ts";

const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];

describe("layGaitTimeline", () => {
  test("closed form: without jitter the steps alternate by the asymmetry, and the mean is the rate", () => {
    const { stepTimesS } = layGaitTimeline(
      [{ state: "running", durationS: 60, stepRateSpm: 160 }],
      { asymmetryShare: 0.06, stepJitterShare: 0 },
      createRandom(1),
    );
    const intervals = Array.from(stepTimesS.slice(1), (time, i) => time - stepTimesS[i]!);
    const even = intervals.filter((_, i) => i % 2 === 0);
    const odd = intervals.filter((_, i) => i % 2 === 1);
    expectClose(Math.abs(even[0]! - odd[0]!), 0.06 * 0.375, { rtol: 1e-9, because: "definition of the asymmetry" });
    expectClose(even[0]! + odd[0]!, 0.75, { rtol: 1e-9, because: "a stride is two steps" });
  });
  test("programmer's error: moving without a rate", () => {
    expect(() =>
      layGaitTimeline([{ state: "running", durationS: 5 }], { asymmetryShare: 0, stepJitterShare: 0 }, createRandom(1)),
    ).toThrow("needs stepRateSpm");
  });
});

describe("moveBody", () => {
  test("closed form: on the trunk contacts carry exactly the body weight, and flight is free fall", () => {
    for (let seed = 1; seed <= 10; seed += 1) {
      const random = createRandom(seed);
      const timeline = layGaitTimeline(
        [{ state: "running", durationS: 30, stepRateSpm: 165 }],
        { asymmetryShare: 0, stepJitterShare: 0 },
        random,
      );
      const { z, rateHz } = moveBody(timeline, "armband", 400, random);
      // Whole strides away from the ends; impacts ring to zero mean, arms swing back.
      const from = Math.round(timeline.stepTimesS[10]! * rateHz);
      const to = Math.round(timeline.stepTimesS[60]! * rateHz);
      const mean = z.subarray(from, to).reduce((sum, value) => sum + value, 0) / (to - from);
      expect(Math.abs(mean), `seed ${seed}`).toBeLessThan(0.06 * STANDARD_GRAVITY_MPS2);
    }
  });
});

describe("makeSyntheticMotion", () => {
  const segments = [{ state: "running" as const, durationS: 10, stepRateSpm: 170 }];
  test("property: the same seed gives the same recording, another another", () => {
    const make = (seed: number) => makeSyntheticMotion({ seed, placement: "hand", segments });
    expect(make(5)).toEqual(make(5));
    expect(make(5).recording.accelXMps2[100]).not.toBe(make(6).recording.accelXMps2[100]);
  });
  test.each(PLACEMENTS)("%s: at rest it feels gravity, or nothing when it is removed", (placement) => {
    for (const gravity of ["included", "removed"] as const) {
      const { recording } = makeSyntheticMotion({
        seed: 2,
        placement,
        gravity,
        segments: [{ state: "standing", durationS: 10 }],
      });
      const norms = Array.from(recording.timeS, (_, i) =>
        Math.hypot(recording.accelXMps2[i]!, recording.accelYMps2[i]!, recording.accelZMps2[i]!),
      );
      const mean = norms.reduce((sum, norm) => sum + norm, 0) / norms.length;
      expect(Math.abs(mean - (gravity === "included" ? STANDARD_GRAVITY_MPS2 : 0))).toBeLessThan(0.6);
    }
  });
  test("the sensor's faults are those asked for", () => {
    const { recording } = makeSyntheticMotion({
      seed: 3,
      placement: "ankle",
      segments: [{ state: "running", durationS: 60, stepRateSpm: 170 }],
      clipMps2: 19.6,
      duplicateShare: 0.05,
      dropOutsPerMinute: 6,
      sampleRateHz: 50,
    });
    const { timeS } = recording;
    const steps = Array.from(timeS.slice(1), (time, i) => time - timeS[i]!);
    expect(Math.max(...recording.accelXMps2, ...recording.accelYMps2, ...recording.accelZMps2)).toBe(19.6);
    const duplicates = steps.filter((step) => step === 0).length / timeS.length;
    expect(duplicates).toBeGreaterThan(0.03);
    expect(duplicates).toBeLessThan(0.07);
    expect(steps.filter((step) => step > 0.09).length).toBeGreaterThan(1);
    expect(steps.every((step) => step >= 0)).toBe(true);
  });
});
