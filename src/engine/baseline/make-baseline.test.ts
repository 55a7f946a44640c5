import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import type { RateWindow } from "../recordings/window.ts";
import { countRate, type MeasuredRate } from "./count.ts";
import { makeBaseline, type BaselineMeasure } from "./make-baseline.ts";
import { ownVariationSpm } from "./own-variation.ts";
import { steadyRate } from "./steady-rate.ts";
import { stopwatchRate } from "./stopwatch.ts";

const count = (entry: Parameters<typeof countRate>[0]): MeasuredRate => {
  const result = countRate(entry);
  if (!result.ok) throw new Error("refused");
  return result.value;
};
const counted = (
  entry: Parameters<typeof countRate>[0],
  extra: { surface?: "outdoor" | "treadmill"; speedMps?: number } = {},
): BaselineMeasure => ({
  kind: "counted",
  measured: count(entry),
  durationS: entry.seconds * (1 + (entry.again?.length ?? 0)),
  surface: extra.surface ?? "outdoor",
  ...(extra.speedMps === undefined ? {} : { speedMps: extra.speedMps }),
});

/** Ten-second windows of a run: `minutes` long, a rate and speed for each minute. */
function windowsOf(minutes: number, rate: (minute: number) => number, more: Partial<RateWindow> = {}): RateWindow[] {
  return Array.from({ length: minutes * 6 }, (_, i) => ({
    startS: i * 10,
    endS: i * 10 + 10,
    stepRateSpm: rate(Math.floor(i / 6)),
    speedMps: 3,
    slope: 0,
    heartRateBpm: null,
    quality: 0.9,
    state: "running" as const,
    cue: null,
    ...more,
  }));
}

describe("a baseline", () => {
  test("closed form: long-memory error of a minute at 170 spm is 0.26 spm at H = 0.5 and 1.22 at H = 0.8", () => {
    expectClose(ownVariationSpm(170, 60, { memoryExponent: 0.5 }), 0.261, { atol: 5e-4, because: "three decimals" });
    expectClose(ownVariationSpm(170, 60, { memoryExponent: 0.8 }), 1.217, { atol: 5e-4, because: "three decimals" });
    expectClose(ownVariationSpm(170, 600, { memoryExponent: 0.8 }), 0.77, { atol: 5e-3, because: "two decimals" });
  });

  test("[M1] a repeated minute, and a stopwatch over 50 contacts, are enough", () => {
    const minutes = makeBaseline([counted({ count: 85, seconds: 60, feet: "one", again: [85] })]);
    if ("kind" in minutes) throw new Error(minutes.have);
    expectClose(minutes.stepRateSpm.estimate, 170, { rtol: 1e-12, because: "mean" });
    expectClose(minutes.stepRateSpm.standardError, Math.hypot(0.8165 / Math.SQRT2, 0.02 * 170 * 340 ** -0.2), {
      atol: 1e-3,
      because: "counting error and wandering added in squares",
    });
    const timed = stopwatchRate({ contacts: 50, seconds: 35.3, feet: "one" });
    if (!timed.ok) throw new Error("refused");
    expect(
      makeBaseline([{ kind: "counted", measured: timed.value, durationS: 35.3, surface: "outdoor" }]),
    ).not.toHaveProperty("kind");
  });

  test.each([10, 15, 30])(
    "[M1] one count of %i s of one foot is not enough, and the answer says what is",
    (seconds) => {
      const short = makeBaseline([counted({ count: Math.round((85 * seconds) / 60), seconds, feet: "one" })]);
      expect(short).toMatchObject({ kind: "not-enough", need: expect.stringContaining("stopwatch") });
    },
  );

  test("[M1] the limit is a setting", () => {
    const minute = [counted({ count: 85, seconds: 60, feet: "one" })];
    expect(makeBaseline(minute)).not.toHaveProperty("kind");
    expect(makeBaseline(minute, { maxStandardErrorSpm: 1 })).toMatchObject({
      kind: "not-enough",
      need: expect.stringContaining("at most 1 spm"),
      have: "a standard error of 1.5 spm",
    });
  });

  test("[M1] nothing measured is not enough", () => {
    expect(makeBaseline([])).toMatchObject({ kind: "not-enough", have: "no measure yet" });
  });

  test("[M2] contradicting counts make no baseline", () => {
    const disputed = makeBaseline([counted({ count: 85, seconds: 60, feet: "one", again: [89] })]);
    expect(disputed).toMatchObject({ kind: "not-enough", need: expect.stringContaining("one more count") });
  });

  test("[M3] a count with a questioned label makes no baseline until it is answered", () => {
    expect(makeBaseline([counted({ count: 170, seconds: 60, feet: "one" })])).toMatchObject({
      kind: "not-enough",
      need: expect.stringContaining("which feet"),
    });
  });

  test("[M4] treadmill and outdoors are never pooled", () => {
    const entry = { count: 85, seconds: 60, feet: "one" } as const;
    const mixed = makeBaseline([counted(entry), counted(entry, { surface: "treadmill" })]);
    expect(mixed).toMatchObject({ kind: "not-enough", have: expect.stringContaining("never pooled") });
    expect(makeBaseline([counted(entry), counted(entry)])).toMatchObject({ surface: "outdoor" });
  });

  test("speed comes along as the mean; speeds more than 10 % apart are refused", () => {
    const entry = { count: 85, seconds: 60, feet: "one" } as const;
    expect(makeBaseline([counted(entry, { speedMps: 2.9 }), counted(entry, { speedMps: 3.1 })])).toMatchObject({
      speedMps: 3,
    });
    expect(makeBaseline([counted(entry, { speedMps: 2.5 }), counted(entry, { speedMps: 3.1 })])).toMatchObject({
      kind: "not-enough",
    });
  });
});

describe("the settled rate of a recording", () => {
  test("[M1] the first three minutes do not count and three steady ones are needed", () => {
    const settling = (minute: number): number => (minute < 3 ? 150 : 170);
    expect(steadyRate(windowsOf(5, settling))).toEqual({
      kind: "not-enough",
      need: "at least 3 steady minutes of level running after the first 3",
      have: "2 such minutes",
    });
    const enough = steadyRate(windowsOf(6, settling));
    if (enough.kind !== "steady") throw new Error(enough.have);
    expectClose(enough.rate.estimate, 170, { rtol: 1e-12, because: "the warm-up is left out" });
    expectClose(enough.rate.standardError, 0.02 * 170 * 510 ** -0.2, { rtol: 1e-9, because: "510 steps, H 0.8" });
    expect(enough.speedMps).toBe(3);
    const baseline = makeBaseline([{ kind: "recorded", measured: enough, surface: "outdoor" }]);
    expect(baseline).toMatchObject({ speedMps: 3, surface: "outdoor" });
  });

  test("hills, walking, cued and off-speed windows are left out", () => {
    const base = windowsOf(12, () => 170);
    const odd = (more: Partial<RateWindow>): RateWindow[] =>
      base.map((w, i) => (i >= 60 ? { ...w, stepRateSpm: 185, ...more } : w));
    for (const more of [{ slope: 0.05 }, { state: "walking" as const }, { cue: "on" as const }, { speedMps: 4 }]) {
      const result = steadyRate(odd(more));
      if (result.kind !== "steady") throw new Error(result.have);
      expect(result.steadyMinuteCount, JSON.stringify(more)).toBe(7);
      expect(result.rate.estimate).toBe(170);
    }
  });

  test("overlapping windows are not counted twice", () => {
    // Windows of 10 s every 5 s that cover only the first 30 s of each minute: 30 s is too little for a minute.
    const sparse = windowsOf(12, () => 170)
      .filter((_, i) => i % 6 < 3)
      .flatMap((w) => [w, { ...w, startS: w.startS + 1, endS: w.endS - 1 }]);
    expect(steadyRate(sparse)).toMatchObject({ kind: "not-enough", have: "0 such minutes" });
  });

  test("scattered minutes widen the error", () => {
    const random = createRandom(5);
    const jumpy = Array.from({ length: 13 }, () => 170 + 6 * random.normal());
    const result = steadyRate(windowsOf(13, (minute) => jumpy[minute]!));
    if (result.kind !== "steady") throw new Error(result.have);
    const kept = jumpy.slice(3);
    const mean = kept.reduce((a, b) => a + b, 0) / 10;
    const sd = Math.sqrt(kept.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 9);
    expectClose(result.rate.standardError, sd * 10 ** -0.2, { rtol: 1e-9, because: "sd · n^(H − 1)" });
    const sorted = [...kept].sort((a, b) => a - b);
    expectClose(result.rate.estimate, (sorted[4]! + sorted[5]!) / 2, { rtol: 1e-12, because: "median" });
  });
});
