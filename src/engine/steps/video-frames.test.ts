// Counted frames: exact arithmetic, a published check, and the rounding error by simulation.
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { type Uncertain } from "../quantities/uncertain.ts";
import { measureVideoFrames, type VideoCount, type VideoGait } from "./video-frames.ts";

const measure = (count: VideoCount): VideoGait => {
  const result = measureVideoFrames(count);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};
const sure = (value: VideoGait[keyof VideoGait]): Uncertain => {
  if ("kind" in value) throw new Error(value.need);
  return value;
};
const exact = { rtol: 1e-12, because: "plain arithmetic" };

describe("measureVideoFrames", () => {
  test("closed form: 240 frames a second, 60 frames of contact, 24 of flight", () => {
    const contacts = [0, 84, 168, 252, 336].map((landFrame) => ({ landFrame, toeOffFrame: landFrame + 60 }));
    const gait = measure({ frameRateHz: 240, contacts, feet: "both" });
    expectClose(gait.contactTimeS.estimate, 0.25, exact);
    expectClose(sure(gait.flightTimeS).estimate, 0.1, exact);
    expectClose(sure(gait.dutyFactor).estimate, 0.25 / 0.7, exact);
    expectClose(sure(gait.stepRateSpm).estimate, 60 / 0.35, exact);
    expectClose(gait.contactTimeS.standardError, 1 / (240 * Math.sqrt(6) * Math.sqrt(5)), exact);
    expectClose(sure(gait.stepRateSpm).standardError, (60 / 0.35) * (1 / (240 * Math.sqrt(6)) / 4 / 0.35), exact);
  });
  test("closed form: the same runner with one foot counted", () => {
    const contacts = [0, 168, 336].map((landFrame) => ({ landFrame, toeOffFrame: landFrame + 60 }));
    const gait = measure({ frameRateHz: 240, contacts, feet: "one" });
    expectClose(sure(gait.stepRateSpm).estimate, 60 / 0.35, exact);
    expectClose(sure(gait.flightTimeS).estimate, 0.1, { rtol: 1e-9, because: "a difference" });
    expectClose(sure(gait.dutyFactor).estimate, 0.25 / 0.7, exact);
  });
  test("published: contact 271 ms and flight 112 ms are a duty factor of 35.5 % and 1.31 strides a second (J Exp Biol table)", () => {
    const contacts = [0, 383, 766].map((landFrame) => ({ landFrame, toeOffFrame: landFrame + 271 }));
    const gait = measure({ frameRateHz: 1000, contacts, feet: "both" });
    expectClose(sure(gait.dutyFactor).estimate, 0.355, {
      atol: 0.002,
      because: "means of ratios and ratios of means differ",
    });
    expectClose(sure(gait.stepRateSpm).estimate / 120, 1.31, { atol: 0.005, because: "the table's rounding" });
  });
  test("simulation: 95 % intervals hold for rounding to frames", () => {
    const random = createRandom(12);
    let covered = 0;
    const runs = 2000;
    for (let r = 0; r < runs; r += 1) {
      const startS = random.next();
      const stepS = 0.32 + 0.06 * random.next();
      const contacts = Array.from({ length: 6 }, (_, i) => ({
        landFrame: Math.ceil(120 * (startS + i * stepS)),
        toeOffFrame: Math.ceil(120 * (startS + i * stepS + 0.2483)),
      }));
      const rate = sure(measure({ frameRateHz: 120, contacts, feet: "both" }).stepRateSpm);
      const truth = 60 / stepS;
      if (truth >= rate.interval95.low && truth <= rate.interval95.high) covered += 1;
    }
    // Triangular error: 1.96 standard deviations hold 96 %; Monte Carlo error 0.5 %.
    expect(covered / runs).toBeGreaterThan(0.94);
    expect(covered / runs).toBeLessThan(0.98);
  });
  test("one contact: its time, and not enough for the rest", () => {
    const gait = measure({ frameRateHz: 240, contacts: [{ landFrame: 5, toeOffFrame: 65 }], feet: "both" });
    expect(gait.contactTimeS.sampleCount).toBe(1);
    expect(gait.stepRateSpm).toMatchObject({ kind: "not-enough" });
  });
  test.each([
    [{ frameRateHz: 5, contacts: [{ landFrame: 0, toeOffFrame: 1 }], feet: "both" }, ["video-frame-rate"]],
    [{ frameRateHz: 240, contacts: [], feet: "both" }, ["video-no-contacts"]],
    [{ frameRateHz: 240, contacts: [{ landFrame: 9, toeOffFrame: 9 }], feet: "both" }, ["video-frame-order"]],
    [
      { frameRateHz: NaN, contacts: [{ landFrame: 0.5, toeOffFrame: 9 }], feet: "one" },
      ["video-frame-rate", "video-frame-order"],
    ],
  ] as const)("refused: %j", (count, codes) => {
    const result = measureVideoFrames(count);
    expect(result.ok ? [] : result.problems.map((problem) => problem.code)).toEqual(codes);
  });
  test("warned: walking, and a coarse film", () => {
    const contacts = [0, 17, 34].map((landFrame) => ({ landFrame, toeOffFrame: landFrame + 20 }));
    const result = measureVideoFrames({ frameRateHz: 30, contacts, feet: "both" });
    expect(result.ok && result.warnings.map((warning) => warning.code)).toEqual(["video-no-flight"]);
    const coarse = measureVideoFrames({ frameRateHz: 25, contacts: [{ landFrame: 0, toeOffFrame: 6 }], feet: "both" });
    expect(coarse.ok && coarse.warnings.map((warning) => warning.code)).toEqual(["video-coarse"]);
  });
});
