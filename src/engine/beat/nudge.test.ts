import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { anySchedule, scheduleOf, session, steps } from "../../../tests/beat-sessions.ts";
import { expectClose } from "../../../tests/expect-close.ts";
import { nudgeBeat } from "./nudge.ts";

describe("a target nudged while it plays", () => {
  it("closed form: 180 to 182 spm at 10.1 s: beat 30 fell at 10 s, 0.3 of the next was done, the rest takes 0.7 · 60/182 s", () => {
    const nudged = nudgeBeat(scheduleOf({ stepRateSpm: 180, durationS: 60 }), { atS: 10.1, deltaSpm: 2 });
    const times = steps(nudged).map(({ timeS }) => timeS);
    expectClose(times.slice(30, 33), [10, 10.1 + (0.7 * 60) / 182, 10.1 + (1.7 * 60) / 182], {
      atol: 1e-9,
      because: "the requirement",
    });
    expect(steps(nudged).every(({ voice }, index) => voice === (index % 2 === 0 ? "left" : "right"))).toBe(true);
    // 30.3 + 49.9 · 182/60 = 181.66…
    expect(times.length).toBe(182);
  });

  it("property: what has sounded stays, and no beat is doubled or out of order", () => {
    fc.assert(
      fc.property(
        anySchedule,
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: -4, max: 4 }),
        (schedule, at, deltaSpm) => {
          const atS = Math.round(schedule.durationS * at) / 100;
          const nudged = nudgeBeat(schedule, { atS, deltaSpm });
          const before = steps(schedule).filter(({ timeS }) => timeS < atS);
          const after = steps(nudged).slice(0, before.length);
          expect(after.map(({ sampleIndex, voice, kind }) => [sampleIndex, voice, kind])).toEqual(
            before.map(({ sampleIndex, voice, kind }) => [sampleIndex, voice, kind]),
          );
          const times = steps(nudged).map(({ timeS }) => timeS);
          expect(times.every((timeS, index) => index === 0 || timeS > times[index - 1]!)).toBe(true);
        },
      ),
      { seed: 20_261_125, numRuns: 60 },
    );
  });

  it("is not raised above the cap, and a rate above the cap is not lowered by asking for more", () => {
    const rateAfter = (stepRateSpm: number, deltaSpm: number, capSpm: number): number => {
      const nudged = nudgeBeat(scheduleOf({ stepRateSpm, durationS: 60 }), { atS: 10, deltaSpm, capSpm });
      const times = steps(nudged).map(({ timeS }) => timeS);
      return 60 / (times.at(-1)! - times.at(-2)!);
    };
    const because = "rates are exact, times are doubles";
    expectClose(rateAfter(178, 4, 180), 180, { rtol: 1e-9, because });
    expectClose(rateAfter(182, 2, 180), 182, { rtol: 1e-9, because });
    expectClose(rateAfter(182, -4, 180), 178, { rtol: 1e-9, because });
  });

  it("during a count-in waits until one beat into the block", () => {
    const schedule = scheduleOf(session({ kind: "cue-on", durationS: 30, stepRateSpm: 120 }), { countInBeats: 4 });
    const times = steps(nudgeBeat(schedule, { atS: 1, deltaSpm: 30 })).map(({ timeS }) => timeS);
    expectClose(times.slice(0, 8), [0, 0.5, 1, 1.5, 2, 2.5, 2.9, 3.3], { atol: 1e-9, because: "the requirement" });
  });
});
