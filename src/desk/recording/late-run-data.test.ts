import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { lateRunData } from "./late-run-data.ts";
import type { Window } from "./window-model.ts";

/** Windows of 10 s over 30 minutes. */
const run = (rate: (timeS: number) => number, speed: (timeS: number) => number): Window[] =>
  Array.from({ length: 180 }, (_, i) => ({
    startS: 10 * i,
    endS: 10 * i + 10,
    stepRateSpm: rate(10 * i + 5),
    speedMps: speed(10 * i + 5),
    slope: 0,
    heartRateBpm: null,
    quality: 0.95,
    state: "running",
    cue: null,
  }));

describe("late-run data", () => {
  it("closed form: a run that only slows down along its own line is level once speed is taken out", () => {
    const speed = (timeS: number) => 3 - timeS / 6000;
    const data = lateRunData(run((timeS) => 160 * (speed(timeS) / 2.8) ** 0.15, speed))!;
    expect(data.points.length).toBeGreaterThanOrEqual(20);
    expectClose(data.lastThirdSpm / data.firstThirdSpm, 1, {
      atol: 2e-4,
      because: "means over a minute of a slowly changing speed",
    });
  });

  it("closed form: a steady fall of 0.2 spm a minute is a fall between the thirds of two thirds of the span", () => {
    const data = lateRunData(
      run(
        (timeS) => 160 - (0.2 * timeS) / 60,
        () => 2.8,
      ),
    )!;
    const spanMin = (data.points.at(-1)!.timeS - data.points[0]!.timeS) / 60;
    expectClose(data.lastThirdSpm - data.firstThirdSpm, -0.2 * spanMin * (2 / 3), {
      atol: 0.15,
      because: "thirds are whole minutes",
    });
  });

  it("too short a run has none", () => {
    expect(
      lateRunData(
        run(
          () => 160,
          () => 2.8,
        ).slice(0, 40),
      ),
    ).toBeUndefined();
  });
});
