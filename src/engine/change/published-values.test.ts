// Published values that the comparison's constants and worked rows rest on; each with its source beside it.
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { LATE_RUN_DROP_LIMIT, SPEED_EXPONENT, UPHILL_EFFECT, changeEvidence } from "../evidence/change.ts";
import { splitOf } from "./speed-split.ts";

const exponent = (f1: number, f2: number, speedRatio: number): number => Math.log(f2 / f1) / Math.log(speedRatio);

describe("the speed exponent", () => {
  it("published: van Oeveren 2017, 77 to 80 strides a minute from 2.4 to 2.9 m/s: 0.2020 (check value 10)", () => {
    expectClose(exponent(77, 80, 2.9 / 2.4), 0.202, { atol: 5e-4, because: "check value 10" });
  });
  it("published: de Ruiter 2020, 165 to 168 spm at +15 % speed: 0.1289 (check value 11)", () => {
    expectClose(exponent(165, 168, 1.15), 0.1289, { atol: 5e-4, because: "check value 11" });
  });
  it("published: Burns 2019, 182 spm and 5.6 spm per m/s: 184.8 half a metre a second quicker (check value 12), exponent about 0.12 at 3.9 m/s", () => {
    expectClose(182 + 5.6 * 0.5, 184.8, { atol: 0.05, because: "check value 12" });
    expectClose((5.6 * 3.9) / 182, 0.12, { atol: 0.005, because: "slope times speed over rate" });
  });
  it("published: our prior's mean lies inside the studies' range and its 95 % interval covers all of them", () => {
    const { mean, sd } = SPEED_EXPONENT.value;
    const studies = [0.12, 0.202, 0.1289, 0.1626, 0.15];
    expect(mean).toBeGreaterThan(Math.min(...studies));
    expect(mean).toBeLessThan(Math.max(...studies));
    for (const study of studies) expect(Math.abs(study - mean)).toBeLessThan(1.96 * sd);
  });
});

describe("worked rows", () => {
  it("published: power form, 164 at 3.00 to 172 at 3.15 m/s: +4.114 %; linear form with 7 spm per m/s: +6.95 spm (check values 13, 14)", () => {
    const split = splitOf({ speedMps: 3, stepRateSpm: 164 }, { speedMps: 3.15, stepRateSpm: 172 });
    expectClose(100 * Math.expm1(split.lnStepRate - SPEED_EXPONENT.value.mean * split.lnSpeed), 4.114, {
      atol: 0.005,
      because: "check value 13",
    });
    expectClose(172 - 164 - 7 * (3.15 - 3), 6.95, { atol: 1e-9, because: "check value 14" });
    expectClose((100 * 6.95) / 164, 4.238, { atol: 0.005, because: "check value 14" });
  });
  it("published: the speed trap, 164 at 3.0 to 166 at 3.4 m/s: expected 167.11, adjusted −0.66 %, step length +11.97 % (check value 15)", () => {
    const split = splitOf({ speedMps: 3, stepRateSpm: 164 }, { speedMps: 3.4, stepRateSpm: 166 });
    expectClose(164 * Math.exp(SPEED_EXPONENT.value.mean * split.lnSpeed), 167.11, {
      atol: 0.01,
      because: "check value 15",
    });
    expectClose(100 * Math.expm1(split.lnStepRate - SPEED_EXPONENT.value.mean * split.lnSpeed), -0.66, {
      atol: 0.01,
      because: "check value 15",
    });
    expectClose(100 * Math.expm1(split.lnStepLength), 11.97, { atol: 0.01, because: "check value 15" });
    expectClose(100 * Math.expm1(split.lnStepRate), 1.22, { atol: 0.01, because: "check value 15" });
  });
  it("published: a +5 % step rate from speed alone needs +38 % speed; 3.0 to 3.2 m/s gives 1.0 % (derived)", () => {
    expectClose(100 * (1.05 ** (1 / SPEED_EXPONENT.value.mean) - 1), 38, {
      atol: 0.5,
      because: "printed to one percent",
    });
    expectClose(100 * ((3.2 / 3) ** SPEED_EXPONENT.value.mean - 1), 1, {
      atol: 0.05,
      because: "printed to one decimal",
    });
  });
  it("published: Baumgartner 2019, 79.9 to 86.8 strides a minute is +8.64 %, 159.8 to 173.6 spm (check value 32)", () => {
    expectClose(100 * (86.8 / 79.9 - 1), 8.64, { atol: 0.05, because: "check value 32" });
    expectClose([2 * 79.9, 2 * 86.8], [159.8, 173.6], { atol: 1e-9, because: "two feet" });
  });
  it("published: 100 ln ratio of +5 % is 4.879 (derived)", () => {
    const split = splitOf({ speedMps: 3, stepRateSpm: 160 }, { speedMps: 3, stepRateSpm: 168 });
    expectClose(100 * split.lnStepRate, 4.879, { atol: 5e-4, because: "printed to three decimals" });
    expectClose(split.lnStepLength, -split.lnStepRate, { atol: 1e-15, because: "same speed" });
    expect(split.stepRateShare).toMatchObject({ kind: "not-enough" });
    expect(() => splitOf({ speedMps: 0, stepRateSpm: 160 }, { speedMps: 3, stepRateSpm: 160 })).toThrow(RangeError);
  });
});

describe("slope and fatigue", () => {
  it("published: Padulo 2013, +4 % step rate at +7 % slope, within a point of our +0.5 % for each 1 % (check value 50)", () => {
    expectClose(100 * Math.expm1(UPHILL_EFFECT.value.mean * 0.07), 4, { atol: 1, because: "check value 50" });
  });
  it("published: the flag for a late-run drop lies beyond the −1.38 % of a normal hard hour (Hunter & Smith 2007, check value 33)", () => {
    expect(LATE_RUN_DROP_LIMIT.value).toBeLessThan(-0.0138);
  });
});

it("every constant of this topic has its own id", () => {
  expect(new Set(changeEvidence.map((entry) => entry.id)).size).toBe(changeEvidence.length);
});
