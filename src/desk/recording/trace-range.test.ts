import { describe, expect, it } from "vitest";
import { pannedRange, zoomedRange } from "./trace-range.ts";

const whole = [0, 1000] as const;

describe("the part of a run that is shown", () => {
  it("closed form: looking twice as close keeps the moment under the finger where it is", () => {
    // 300 s lies at a quarter of 200…600; of 200 s a quarter is 50 s.
    expect(zoomedRange([200, 600], whole, 0.5, 300)).toEqual([250, 450]);
    expect(zoomedRange([250, 450], whole, 2, 300)).toEqual([200, 600]);
  });

  it("never leaves the run, and never looks closer than five seconds", () => {
    expect(zoomedRange([0, 400], whole, 2, 0)).toEqual([0, 800]);
    expect(zoomedRange([600, 1000], whole, 2, 1000)).toEqual([200, 1000]);
    expect(zoomedRange([0, 1000], whole, 3, 10)).toEqual([0, 1000]);
    const closest = zoomedRange([500, 506], whole, 0.1, 503);
    expect(closest).toEqual([500.5, 505.5]);
    expect(zoomedRange(closest, whole, 0.1, 503)).toEqual([500.5, 505.5]);
    // A run shorter than that is shown whole.
    expect(zoomedRange([0, 3], [0, 3], 0.5, 1)).toEqual([0, 3]);
  });

  it("moves along as far as the run goes, without changing how much is shown", () => {
    expect(pannedRange([200, 600], whole, 100)).toEqual([300, 700]);
    expect(pannedRange([200, 600], whole, 900)).toEqual([600, 1000]);
    expect(pannedRange([200, 600], whole, -900)).toEqual([0, 400]);
  });
});
