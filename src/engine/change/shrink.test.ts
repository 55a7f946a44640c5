import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { shrinkTowardsGroup } from "./shrink.ts";

describe("shrinkTowardsGroup", () => {
  it("closed form: with a known spread every estimate keeps spread²/(spread² + error²) of its distance", () => {
    const own = [
      { estimate: 0, standardError: 1 },
      { estimate: 10, standardError: 1 },
      { estimate: 4, standardError: Infinity },
    ];
    const [a, b, c] = shrinkTowardsGroup(own, { median: 2, logSd: 1e-9 });
    expectClose([a!.estimate, b!.estimate, c!.estimate], [5 - 0.8 * 5, 5 + 0.8 * 5, 5], {
      atol: 1e-6,
      because: "share 4/(4+1), mean 5",
    });
    expectClose([a!.ownShare, c!.ownShare], [0.8, 0], { atol: 1e-6, because: "same" });
    // Variance: spread²(1 − share) + (1 − share)²·Var(mean), Var(mean) = (1 + 4)/2.
    const half = 1.959964 * Math.sqrt(4 * 0.2 + 0.04 * 2.5);
    expectClose([b!.interval95.low, b!.interval95.high], [9 - half, 9 + half], {
      atol: 1e-4,
      because: "normal quantiles",
    });
  });

  it("published: eight schools, Rubin 1981 (values and posterior from memory of Gelman et al., Table 5.3: medians 10, 8, 7, 8, 5, 6, 10, 8)", () => {
    const effects = [28, 8, -3, 7, -1, 1, 18, 12];
    const errors = [15, 10, 16, 11, 9, 11, 10, 18];
    // A wide prior stands in for their flat one.
    const shrunk = shrinkTowardsGroup(
      effects.map((estimate, i) => ({ estimate, standardError: errors[i]! })),
      { median: 6, logSd: 1 },
    );
    expectClose(
      shrunk.map((s) => s.estimate),
      [10, 8, 7, 8, 5, 6, 10, 8],
      { atol: 1.7, because: "printed medians are whole numbers; another prior" },
    );
  });

  it("property: shifting and scaling all estimates shifts and scales the answer", () => {
    const own = [1, 3, 7, 2].map((estimate) => ({ estimate, standardError: 1.5 }));
    const plain = shrinkTowardsGroup(own, { median: 2, logSd: 0.7 });
    const moved = shrinkTowardsGroup(
      own.map((o) => ({ estimate: 10 * o.estimate + 5, standardError: 15 })),
      { median: 20, logSd: 0.7 },
    );
    expectClose(
      moved.map((s) => s.estimate),
      plain.map((s) => 10 * s.estimate + 5),
      { rtol: 1e-10, because: "equivariance" },
    );
    expect(() => shrinkTowardsGroup(own.slice(0, 1), { median: 1, logSd: 1 })).toThrow(RangeError);
  });
});
