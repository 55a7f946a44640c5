import { describe, expect, it } from "vitest";
import values from "../../../oracles/robust/values.json" with { type: "json" };
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { blockResamples, quantile } from "./block-bootstrap.ts";
import { normalCdf, studentQuantile, t95 } from "./student-t.ts";
import { median, theilSenSlope } from "./theil-sen.ts";

const mean = (list: ArrayLike<number>): number => Array.from(list).reduce((a, b) => a + b, 0) / list.length;
const sd = (list: readonly number[]): number => Math.sqrt(mean(list.map((x) => (x - mean(list)) ** 2)));

describe("quantiles", () => {
  it("outside tool: Student's t against scipy", () => {
    for (const { share, df, value } of values.tQuantiles)
      expectClose(studentQuantile(share, df), value, {
        rtol: 1e-9,
        because: `share ${share}, df ${df}: same function`,
      });
  });
  it("outside tool: normal distribution function against scipy, both branches", () => {
    for (const { z, value } of values.normalCdf)
      expectClose(normalCdf(z), value, { atol: 1e-14, rtol: 1e-9, because: `z = ${z}` });
  });
  it("closed form: the factor for infinite degrees of freedom is the normal's", () => {
    expectClose(t95(Infinity), 1.959963984540054, { rtol: 1e-6, because: "normal 97.5 % quantile" });
    expect(() => t95(0)).toThrow(RangeError);
  });
  it("outside tool: sample quantiles against numpy", () => {
    for (const { share, value } of values.quantiles.values)
      expectClose(quantile(values.quantiles.sample, share), value, { rtol: 1e-12, because: "same definition" });
  });
});

describe("theilSenSlope", () => {
  it("outside tool: against scipy, with and without ties", () => {
    for (const { x, y, slope } of values.theilSen)
      expectClose(theilSenSlope(x, y), slope, { rtol: 1e-12, because: "same definition" });
  });
  it("slow twin: the median of all pairwise slopes, sorted out by hand", () => {
    const random = createRandom(3);
    for (let n = 2; n < 14; n += 1) {
      const x = Array.from({ length: n }, (_, i) => i + random.next());
      const y = x.map(() => random.normal());
      const slopes = x
        .flatMap((a, i) => x.slice(i + 1).map((b, k) => (y[i + 1 + k]! - y[i]!) / (b - a)))
        .toSorted((a, b) => a - b);
      const half = slopes.length / 2;
      const want = slopes.length % 2 === 1 ? slopes[Math.floor(half)]! : (slopes[half - 1]! + slopes[half]!) / 2;
      expectClose(theilSenSlope(x, y), want, { rtol: 1e-12, because: `n = ${n}` });
    }
  });
  it("property: one wild point does not bend it", () => {
    const x = Array.from({ length: 21 }, (_, i) => i);
    expectClose(
      theilSenSlope(
        x,
        x.map((t) => (t === 20 ? 1e6 : 3 * t)),
      ),
      3,
      { rtol: 1e-12, because: "median of slopes" },
    );
  });
  it("throws without two different x, median throws when empty", () => {
    expect(() => theilSenSlope([1, 1], [2, 3])).toThrow(RangeError);
    expect(() => median([])).toThrow(RangeError);
  });
});

describe("blockResamples", () => {
  it("outside tool: blocks of one are scipy's bootstrap, within Monte-Carlo error", () => {
    const { sample } = values.bootstrap;
    for (const [name, of] of [
      ["mean", mean],
      ["median", median],
    ] as const) {
      const reference = values.bootstrap[name];
      const repeats = blockResamples(sample.length, { seed: 11, repeats: 4000, blockLength: 1 }).map((indices) =>
        of(Array.from(indices, (i) => sample[i]!)),
      );
      expectClose(sd(repeats), reference.standardError, {
        rtol: 0.05,
        because: "4000 resamples: 1.1 % standard error",
      });
      // The resampled median jumps between a few values: its ends are compared for the mean only.
      if (name === "median") continue;
      const room = {
        atol: 0.12 * reference.standardError,
        because: "standard error of a 2.5 % quantile over 4000 resamples is 0.04",
      };
      expectClose(quantile(repeats, 0.025), reference.low, room);
      expectClose(quantile(repeats, 0.975), reference.high, room);
    }
  });
  it("closed form: the variance of a circular block mean is the mean square of all block means over their number", () => {
    const y = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8];
    const b = 3;
    const centre = mean(y);
    const blocks = y.map((_, s) => mean([0, 1, 2].map((k) => y[(s + k) % y.length]!)) - centre);
    const want = Math.sqrt(mean(blocks.map((x) => x * x)) / (y.length / b));
    const repeats = blockResamples(y.length, { seed: 2, repeats: 8000, blockLength: b }).map((indices) =>
      mean(Array.from(indices, (i) => y[i]!)),
    );
    expectClose(sd(repeats), want, { rtol: 0.03, because: "8000 resamples: 0.8 % standard error" });
  });
  it("property: the same seed gives the same resamples", () => {
    expect(blockResamples(9, { seed: 5, repeats: 3 })).toEqual(blockResamples(9, { seed: 5, repeats: 3 }));
    expect(blockResamples(9, { seed: 6, repeats: 3 })).not.toEqual(blockResamples(9, { seed: 5, repeats: 3 }));
  });
});
