import { describe, expect, it } from "vitest";
import { findingOf, sentenceOf } from "./finding.ts";

const of = (low: number, estimate: number, high: number, speedChangePercent: number, runs = 4): string =>
  findingOf({
    changeSpm: { estimate, interval95: { low, high } },
    speedChangePercent,
    beforeRunCount: runs,
    afterRunCount: runs,
  });

describe("findingOf", () => {
  it.each([
    ["changed", 1, 4, 7, 0, 4],
    ["changed", 0.1, 4, 8, 3, 4],
    ["both", 0.1, 4, 8, 3.1, 4],
    ["dropped", -7, -4, -0.1, 0, 4],
    ["dropped", -7, -4, -0.1, 10, 4],
    ["faster-only", -3, 1, 5, 3.1, 4],
    ["not-enough-evidence", -3, 2.1, 7, 3.1, 4],
    ["not-enough-evidence", -3, 1, 5, 3, 4],
    ["no-change", -1.9, 0, 1.9, 0, 4],
    ["not-enough-evidence", -2.1, 0, 1.9, 0, 4],
    ["not-enough-evidence", 1, 4, 7, 0, 1],
  ])("closed form: %s at interval %d..(%d)..%d, speed %d %%, %d runs", (finding, low, estimate, high, speed, runs) => {
    expect(of(low, estimate, high, speed, runs)).toBe(finding);
  });

  it("[D11] a single run on either side is never proof, however far from zero", () => {
    for (const [before, after] of [
      [1, 6],
      [6, 1],
      [1, 1],
    ] as const)
      expect(
        findingOf({
          changeSpm: { estimate: 20, interval95: { low: 15, high: 25 } },
          speedChangePercent: 0,
          beforeRunCount: before,
          afterRunCount: after,
        }),
      ).toBe("not-enough-evidence");
  });
});

describe("sentenceOf", () => {
  const sentence = (
    low: number,
    estimate: number,
    high: number,
    finding: Parameters<typeof sentenceOf>[0]["finding"],
  ): string =>
    sentenceOf({
      changeSpm: { estimate, interval95: { low, high } },
      speedChangePercent: 5,
      beforeRunCount: 3,
      afterRunCount: 3,
      finding,
      runsStillNeeded: 2,
      leansOnSlope: false,
    });

  it("says the size, the direction and both ends in words", () => {
    expect(sentence(2, 4, 6.1, "changed")).toBe(
      "Changed: about 4.0 spm quicker at the same speed, 95 % sure it is between 2.0 and 6.1 spm quicker.",
    );
    expect(sentence(-6, -4, -2, "dropped")).toContain(
      "about 4.0 spm slower at the same speed, 95 % sure it is between 2.0 and 6.0 spm slower",
    );
    expect(sentence(-1, 1, 3, "faster-only")).toContain("between 1.0 spm slower and 3.0 spm quicker");
    expect(sentence(-4, 1, 6, "not-enough-evidence")).toContain("About 2 more runs would tell.");
  });
});
