import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { expectedHalfWidth, runsStillNeeded } from "./runs-needed.ts";

const input = { beforeRunCount: 2, afterRunCount: 2, runVariance: 1e-4, leaningVariance: 0, halfWidth: 0.012 } as const;

describe("expectedHalfWidth", () => {
  it("closed form: t with n1 + n2 − 1 degrees of freedom times √(V(1/n1 + 1/n2) + slope part)", () => {
    // t quantiles of printed tables: 3.182 for 3 degrees of freedom, 2.365 for 7 (common practice, any statistics table).
    expectClose(expectedHalfWidth(2, 2, 1e-4, 0), 3.182 * 0.01, { rtol: 2e-4, because: "table has three decimals" });
    expectClose(expectedHalfWidth(4, 4, 1e-4, 5e-5), 2.365 * 0.01, { rtol: 3e-4, because: "table has three decimals" });
  });
});

describe("runsStillNeeded", () => {
  it("closed form: from two a side to seven, with a day-to-day spread of 1 % and a half-width of 1.2 %", () => {
    // n = 6 a side: 2.201·0.01·√(1/3) = 1.27 %; 7 and 6: 2.179·0.01·√(13/42) = 1.21 %; 7 and 7: 2.160·0.01·√(2/7) = 1.15 %.
    expect(runsStillNeeded(input)).toEqual({ total: 10, before: 5, after: 5 });
  });
  it("adds to the poorer side first", () => {
    expect(runsStillNeeded({ ...input, beforeRunCount: 1, afterRunCount: 20 })).toMatchObject({ after: 0 });
  });
  it("[D11] asks for two runs a side even when the numbers are sharp already", () => {
    expect(runsStillNeeded({ ...input, beforeRunCount: 1, afterRunCount: 1, runVariance: 1e-9 })).toEqual({
      total: 2,
      before: 1,
      after: 1,
    });
    expect(runsStillNeeded({ ...input, runVariance: 1e-9 })).toEqual({ total: 0, before: 0, after: 0 });
  });
  it("says so when more runs at these speeds would never do", () => {
    expect(runsStillNeeded({ ...input, leaningVariance: 1e-4 })).toMatchObject({ kind: "not-enough" });
  });
});
