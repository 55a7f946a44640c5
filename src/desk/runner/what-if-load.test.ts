import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { VideoMeasure } from "../../api/index.ts";
import { whatIfLoad } from "./what-if-load.ts";

/** Contact 0.25 s and flight 0.1 s at 240 frames a second: 60 and 24 frames. */
const clip = (more: Partial<VideoMeasure> = {}): VideoMeasure => ({
  id: "a",
  runnerId: "r",
  at: "2026-03-02T18:00:00Z",
  phase: "before",
  frameRateHz: 240,
  contactFrames: [0, 84, 168, 252],
  toeOffFrames: [60, 144, 228, 312],
  speedMps: 3.33,
  shankAngleRad: null,
  footAheadOfHipM: null,
  note: "",
  ...more,
});
const runner = { massKg: 70, legLengthM: 0.93, heightM: null };

describe("load at another step rate", () => {
  it("the trade: a quicker step is lighter, and there are exactly so many more of them", () => {
    const load = whatIfLoad(runner, [clip()], 0.05)!;
    expect(load.perStepPercent).toBeLessThan(0);
    const alike = load.perKm.find((row) => row.tissue === "impulse")!;
    expectClose(1 + alike.percent / 100, 1.05 * (1 + load.perStepPercent / 100), {
      rtol: 1e-9,
      because: "steps per kilometre rise with step rate at the same speed",
    });
  });

  it("nothing is said without body mass, a measured speed, leg length, or beyond 15 %", () => {
    expect(whatIfLoad({ ...runner, massKg: null }, [clip()], 0.05)).toBeUndefined();
    expect(whatIfLoad({ ...runner, legLengthM: null }, [clip()], 0.05)).toBeUndefined();
    expect(whatIfLoad(runner, [clip({ speedMps: null })], 0.05)).toBeUndefined();
    expect(whatIfLoad(runner, [], 0.05)).toBeUndefined();
    expect(whatIfLoad(runner, [clip()], 0.2)).toBeUndefined();
  });

  it("takes the newest clip that has a speed", () => {
    const old = clip({
      at: "2026-01-01T00:00:00Z",
      contactFrames: [0, 90, 180, 270],
      toeOffFrames: [70, 160, 250, 340],
    });
    const newest = clip({ at: "2026-04-01T00:00:00Z", speedMps: null });
    expect(whatIfLoad(runner, [old, clip(), newest], 0.05)).toEqual(whatIfLoad(runner, [clip()], 0.05));
  });
});
