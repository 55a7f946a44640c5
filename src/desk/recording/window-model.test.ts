import { describe, expect, it } from "vitest";
import { joined, leftOut, stops, unused, type Window } from "./window-model.ts";
import { minutesText, parseMinutes } from "./minutes.ts";

const window = (startS: number, endS: number, more: Partial<Window> = {}): Window => ({
  startS,
  endS,
  stepRateSpm: 160,
  speedMps: 2.8,
  slope: 0,
  heartRateBpm: null,
  quality: 0.9,
  state: "running",
  cue: null,
  ...more,
});

describe("windows of a recording", () => {
  it("joins touching and overlapping stretches, keeps gaps", () => {
    expect(joined([window(10, 20), window(0, 10), window(15, 25), window(40, 50)])).toEqual([
      { startS: 0, endS: 25 },
      { startS: 40, endS: 50 },
    ]);
  });

  it("a stretch inside another does not shorten it", () => {
    expect(joined([window(0, 30), window(5, 10)])).toEqual([{ startS: 0, endS: 30 }]);
  });

  it("counts the time behind each reason once, longest first", () => {
    const some = [
      window(0, 20, { reason: "settling" }),
      window(10, 30, { reason: "settling" }),
      window(60, 70, { reason: "too steep" }),
      window(70, 80),
    ];
    expect(leftOut(some)).toEqual([
      { reason: "settling", count: 2, seconds: 30 },
      { reason: "too steep", count: 1, seconds: 10 },
    ]);
  });

  it("stops are where the runner stood or walked; unused is what ran and was not taken", () => {
    const some = [
      window(0, 10, { state: "standing", reason: "standing" }),
      window(10, 20, { state: "walking" }),
      window(20, 30, { reason: "weak signal" }),
    ];
    expect(stops(some)).toEqual([{ startS: 0, endS: 20 }]);
    expect(unused(some)).toEqual([{ startS: 20, endS: 30 }]);
  });
});

describe("times in a recording", () => {
  it("reads minutes and seconds, minutes alone, and hours", () => {
    expect(parseMinutes("12:30")).toBe(750);
    expect(parseMinutes("5")).toBe(300);
    expect(parseMinutes("1:02:03")).toBe(3723);
    expect(parseMinutes("12:75")).toBeUndefined();
    expect(parseMinutes("x")).toBeUndefined();
  });

  it("round trip with what is shown", () => {
    for (const seconds of [0, 59, 60, 750, 3723]) expect(parseMinutes(minutesText(seconds))).toBe(seconds);
  });
});
