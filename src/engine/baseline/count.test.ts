import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { Result } from "../quantities/problem.ts";
import { createRandom } from "../quantities/random.ts";
import { countPosterior } from "./count-posterior.ts";
import { countRate, type MeasuredRate } from "./count.ts";

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}
const codes = (result: Result<MeasuredRate>): string[] =>
  result.ok ? result.warnings.map((w) => w.code) : result.problems.map((p) => p.code);

describe("a count in a set time", () => {
  // EVIDENCE of the project, derived: step / √6 for a random start phase, both feet and one foot.
  test.each([
    [60, "both", 170, 0.41],
    [60, "one", 85, 0.82],
    [30, "both", 85, 0.82],
    [30, "one", 43, 1.63],
    [20, "both", 57, 1.22],
    [20, "one", 28, 2.45],
    [15, "both", 43, 1.63],
    [15, "one", 21, 3.27],
    [10, "both", 28, 2.45],
    [10, "one", 14, 4.9],
  ] as const)("closed form: %i s, %s: the sd is the step over root six", (seconds, feet, count, sd) => {
    const { rate } = value(countRate({ count, seconds, feet }));
    expectClose(rate.standardError, sd, { atol: 0.005, because: "the table is printed to two decimals" });
    expectClose(rate.estimate, (count * 60 * (feet === "one" ? 2 : 1)) / seconds, { rtol: 1e-12, because: "identity" });
  });

  test("slow twin: mean, sd and interval of the posterior on a fine grid of rates", () => {
    for (const first of ["unknown", "zero", "one"] as const) {
      const [count, seconds] = [29, 20];
      const likelihood = (contacts: number): number => {
        if (first === "unknown") return Math.max(0, 1 - Math.abs(contacts - count));
        return Math.floor(contacts) + (first === "one" ? 1 : 0) === count ? 1 : 0;
      };
      const step = 1e-4;
      const grid = Array.from({ length: 40_000 }, (_, i) => count - 2 + (i + 0.5) * step);
      const mass = grid.reduce((sum, x) => sum + likelihood(x), 0);
      const mean = grid.reduce((sum, x) => sum + x * likelihood(x), 0) / mass;
      const sd = Math.sqrt(grid.reduce((sum, x) => sum + (x - mean) ** 2 * likelihood(x), 0) / mass);
      let run = 0;
      const quantile = [0.025, 0.975].map(() => 0);
      for (const x of grid) {
        const before = run / mass;
        run += likelihood(x);
        if (before < 0.025 && run / mass >= 0.025) quantile[0] = x;
        if (before < 0.975 && run / mass >= 0.975) quantile[1] = x;
      }
      const posterior = countPosterior(count, seconds, first);
      const scale = 60 / seconds;
      const because = `grid of ${step} contacts, first ${first}`;
      expectClose(
        [posterior.estimate, posterior.standardError, posterior.interval95.low, posterior.interval95.high],
        [mean, sd, quantile[0]!, quantile[1]!].map((x) => x * scale),
        { atol: 3e-4 * scale, because },
      );
    }
  });

  test("simulation: the 95 % interval holds the truth 95 % of the time, with every way of starting", () => {
    const random = createRandom(20);
    const rounds = 20_000;
    for (const first of ["unknown", "zero", "one"] as const) {
      let held = 0;
      for (let round = 0; round < rounds; round += 1) {
        const rateHz = (70 + 30 * random.next()) / 60;
        const phase = first === "unknown" ? random.next() : 0;
        // Contacts at (n + phase) / rate; those inside [0, T), the one at 0 called zero when so agreed.
        const contacts = Math.ceil(30 * rateHz - phase) + (first === "zero" ? -1 : 0);
        const { interval95 } = countPosterior(contacts, 30, first);
        if (interval95.low <= rateHz * 60 && rateHz * 60 <= interval95.high) held += 1;
      }
      // Monte Carlo sd of the share is √(0.95 · 0.05 / 20000) = 0.0015.
      expectClose(held / rounds, 0.95, { atol: 0.006, because: "four Monte Carlo standard errors" });
    }
  });

  test("fence post: started on a contact, calling it one reads a whole contact less than calling it zero", () => {
    const zero = value(countRate({ count: 85, seconds: 60, feet: "one", first: "zero" })).rate;
    const one = value(countRate({ count: 85, seconds: 60, feet: "one", first: "one" })).rate;
    expectClose(zero.estimate - one.estimate, 2, { atol: 1e-9, because: "one contact of one foot a minute is 2 spm" });
    expectClose(one.interval95.high, 170, { atol: 0.06, because: "at most the number that was said" });
    expect(one.interval95.high).toBeLessThan(170);
    expect(zero.interval95.low).toBeGreaterThan(170);
  });

  test("property: the interval holds the estimate, and a longer count of the same rate is surer", () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 50 }), fc.integer({ min: 2, max: 6 }), (count, times) => {
        const short = countPosterior(count, 20, "unknown");
        const long = countPosterior(count * times, 20 * times, "unknown");
        expectClose(long.estimate, short.estimate, { rtol: 1e-12, because: "same rate" });
        expect(long.standardError).toBeLessThan(short.standardError);
        expect(short.interval95.low).toBeLessThan(short.estimate);
        expect(short.interval95.high).toBeGreaterThan(short.estimate);
      }),
      { seed: 1, numRuns: 100 },
    );
  });
});

describe("repeats", () => {
  test("closed form: two equal counts have the error of one over root two", () => {
    const one = value(countRate({ count: 85, seconds: 60, feet: "one" })).rate;
    const two = value(countRate({ count: 85, seconds: 60, feet: "one", again: [85] })).rate;
    expectClose(two.standardError, one.standardError / Math.SQRT2, { rtol: 1e-12, because: "inverse variance" });
    expectClose(two.estimate, 170, { rtol: 1e-12, because: "mean of equals" });
  });

  test("[M2] one contact apart is within the error; two apart asks for a third", () => {
    const close = countRate({ count: 85, seconds: 60, feet: "one", again: [86] });
    expect(codes(close)).toEqual([]);
    expectClose(value(close).rate.estimate, 171, { rtol: 1e-12, because: "mean" });
    const far = countRate({ count: 85, seconds: 60, feet: "one", again: [87] });
    expect(codes(far)).toEqual(["counts-disagree"]);
    expect(value(far).needsAnother).toBe(true);
    // Widened until the error holds the scatter: half the difference of 4 spm.
    expectClose(value(far).rate.standardError, 2, { rtol: 1e-9, because: "Birge's ratio of two equal errors" });
  });

  test("[M2] a third that sides with one of the two outvotes the other", () => {
    const result = countRate({ count: 85, seconds: 60, feet: "one", again: [91, 86] });
    expect(codes(result)).toEqual(["count-set-aside"]);
    expect(value(result).setAside).toEqual([1]);
    expectClose(value(result).rate.estimate, 171, { rtol: 1e-12, because: "mean of the two that agree" });
  });

  test("[M2] three that all contradict each other stay disputed", () => {
    expect(codes(countRate({ count: 80, seconds: 60, feet: "one", again: [85, 90] }))).toEqual(["counts-disagree"]);
  });

  test("[M2] two against two is no majority", () => {
    const result = countRate({ count: 85, seconds: 60, feet: "one", again: [91, 85, 91] });
    expect(codes(result)).toEqual(["counts-disagree"]);
    expect(value(result).needsAnother).toBe(true);
  });

  test("property: the order of the counts does not matter", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 75, max: 95 }), { minLength: 2, maxLength: 5 }), (counts) => {
        const there = value(countRate({ count: counts[0]!, again: counts.slice(1), seconds: 60, feet: "one" })).rate;
        const back = [...counts].reverse();
        const again = value(countRate({ count: back[0]!, again: back.slice(1), seconds: 60, feet: "one" })).rate;
        expectClose(again.estimate, there.estimate, { rtol: 1e-12, because: "rounding only" });
        expectClose(again.standardError, there.standardError, { rtol: 1e-12, because: "rounding only" });
      }),
      { seed: 2, numRuns: 300 },
    );
  });
});

describe("bad counts", () => {
  test.each([
    [0, "count-not-positive"],
    [-3, "count-not-positive"],
    [78.5, "count-not-whole"],
    [Number.NaN, "count-not-a-number"],
    [Infinity, "count-not-a-number"],
    [9999, "count-absurd"],
    [3, "count-absurd"],
  ])("%d is refused as %s", (count, code) => {
    expect(codes(countRate({ count, seconds: 60, feet: "one" }))).toEqual([code]);
    expect(codes(countRate({ count: 85, again: [count], seconds: 60, feet: "one" }))).toEqual([code]);
  });

  test.each([0, -60, 1, 4000, Number.NaN])("a count over %d s is refused", (seconds) => {
    expect(codes(countRate({ count: 85, seconds, feet: "one" }))).toEqual(["count-time-out-of-range"]);
  });

  test("[M3] a both-feet number under one foot is queried and not converted", () => {
    const result = countRate({ count: 170, seconds: 60, feet: "one" });
    expect(codes(result)).toEqual(["feet-query"]);
    expectClose(value(result).rate.estimate, 340, { rtol: 1e-12, because: "the label is taken at its word" });
    expect(value(result).feetQueried).toBe(true);
    expect(codes(countRate({ count: 85, seconds: 60, feet: "both" }))).toEqual(["feet-query"]);
    expect(codes(countRate({ count: 170, seconds: 60, feet: "one", feetConfirmed: true }))).toEqual([]);
  });

  test("[M3] a number that fits neither label is flagged", () => {
    expect(codes(countRate({ count: 115, seconds: 60, feet: "one" }))).toEqual(["rate-implausible"]);
  });
});
