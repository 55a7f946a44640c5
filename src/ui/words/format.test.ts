import { describe, expect, it } from "vitest";
import { showStepRate } from "../../engine/quantities/display.ts";
import { createFormat, formatNumber, formatSigned, intervalDigits } from "./format.ts";

const NBSP = "\u00a0";
const both = createFormat({ locale: "en", feet: "both", speed: "min-per-km" });
const one = createFormat({ locale: "en", feet: "one", speed: "min-per-mile" });

describe("numbers", () => {
  it("signs are true minus signs, and nothing is ever −0", () => {
    expect(formatNumber(-3.2, 1)).toBe("−3.2");
    expect(formatNumber(-0.04, 1)).toBe("0.0");
    expect(formatSigned(0.04, 1)).toBe("0.0");
    expect(formatSigned(4, 0)).toBe("+4");
    expect(formatSigned(-4, 0)).toBe("−4");
  });

  it("follows the locale", () => {
    expect(formatNumber(1234.5, 1, "de")).toBe("1.234,5");
  });
});

describe("intervals", () => {
  it("narrow ones keep a decimal, wide ones do not pretend to", () => {
    expect(intervalDigits(0.3, 1.4)).toBe(1);
    expect(intervalDigits(4, 10)).toBe(0);
  });
});

describe("rates", () => {
  it("reads both feet as they are and one foot as half", () => {
    expect(both.rate(156)).toBe(`156${NBSP}spm`);
    expect(one.rate(156)).toBe(`78${NBSP}per foot`);
    expect(one.rate(157)).toBe(`78.5${NBSP}per foot`);
    expect(one.rateChange(4)).toBe(`+2.0${NBSP}per foot`);
    expect(both.rateChange(-4.4)).toBe(`−4${NBSP}spm`);
  });
});

describe("rates that were set", () => {
  it("are read to the digit that sounds: halves and tenths of both feet, quarters and twentieths of one", () => {
    expect([161.5, 162, 164.8, 161.96].map(both.beatValue)).toEqual(["161.5", "162", "164.8", "162"]);
    expect([161.5, 161, 162, 164.8, 164.9].map(one.beatValue)).toEqual(["80.75", "80.5", "81", "82.4", "82.45"]);
    expect(one.beat(161.5)).toBe(`80.75${NBSP}per foot`);
  });

  it("property: what is read, taken as a both-feet rate again, is the tenth that was set, on screens and on paper alike", () => {
    for (let tenths = 1200; tenths <= 2200; tenths += 1) {
      const set = tenths / 10;
      expect(Number(both.beatValue(set))).toBe(set);
      expect(Math.round(20 * Number(one.beatValue(set))) / 10).toBe(set);
      expect(showStepRate(set)).toBe(both.beat(set).replace(NBSP, " "));
      expect(showStepRate(set, { feet: "one", speed: "min-per-km" })).toBe(one.beat(set).replace(NBSP, " "));
    }
  });
});

describe("speeds and lengths", () => {
  it("closed form: 1000/357 m/s is 5:57 per km", () => {
    expect(both.speed(1000 / 357)).toBe(`5:57${NBSP}per km`);
  });

  it("closed form: 2.68224 m/s is 10:00 per mile (1609.344 m in 600 s)", () => {
    expect(one.speed(2.68224)).toBe(`10:00${NBSP}per mile`);
  });

  it("km/h keeps one decimal", () => {
    expect(createFormat({ locale: "en", feet: "both", speed: "km-per-h" }).speed(2.7777778)).toBe(`10.0${NBSP}km/h`);
  });

  it("closed form: 1.06 m is 3.48 ft, −4 cm is −1.6 in", () => {
    expect(both.length(1.06)).toBe(`1.06${NBSP}m`);
    expect(one.length(1.06)).toBe(`3.48${NBSP}ft`);
    expect(both.lengthChange(-0.04)).toBe(`−4${NBSP}cm`);
    expect(one.lengthChange(-0.04)).toBe(`−1.6${NBSP}in`);
  });
});

describe("dates and durations", () => {
  it("a plain date stays on its day in every zone", () => {
    expect(both.dateShort("2026-03-01")).toContain("1");
    expect(both.date("2026-03-01")).toBe("March 1, 2026");
    expect(createFormat({ locale: "en-GB", feet: "both", speed: "min-per-km" }).date("2026-03-01")).toBe(
      "1 March 2026",
    );
  });

  it("durations round to what a person says", () => {
    expect(both.duration(38)).toBe(`38${NBSP}s`);
    expect(both.duration(2520)).toBe(`42${NBSP}min`);
    expect(both.duration(3840)).toBe(`1${NBSP}h${NBSP}04${NBSP}min`);
  });
});
