import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { stopwatchRate } from "./stopwatch.ts";

describe("time of a set number of contacts", () => {
  // Derived in the project's evidence: rate 120 N / t, 0.2 s of timing error at 170 spm.
  test.each([
    [20, 2.4, 0.05],
    [30, 1.61, 0.005],
    [50, 0.96, 0.005],
    [60, 0.8, 0.005],
  ])("closed form: %i contacts of one foot at 170 spm", (contacts, error, atol) => {
    const result = stopwatchRate({ contacts, seconds: (120 * contacts) / 170, feet: "one" });
    if (!result.ok) throw new Error("refused");
    expectClose(result.value.rate.estimate, 170, { rtol: 1e-12, because: "identity" });
    expectClose(result.value.rate.standardError, error, { atol, because: "printed precision of the evidence" });
  });

  test("simulation: with timing errors of 0.2 s the interval holds the truth 95 % of the time", () => {
    const random = createRandom(21);
    const rounds = 20_000;
    let held = 0;
    for (let round = 0; round < rounds; round += 1) {
      const truth = 150 + 40 * random.next();
      const result = stopwatchRate({ contacts: 50, seconds: (120 * 50) / truth + 0.2 * random.normal(), feet: "one" });
      if (!result.ok) throw new Error("refused");
      const { low, high } = result.value.rate.interval95;
      if (low <= truth && truth <= high) held += 1;
    }
    expectClose(held / rounds, 0.95, { atol: 0.006, because: "four Monte Carlo standard errors of 0.0015" });
  });

  test.each([
    [0, 30, "count-not-positive"],
    [50.5, 30, "count-not-whole"],
    [50, 0, "stopwatch-time-out-of-range"],
    [50, Number.NaN, "stopwatch-time-out-of-range"],
    [50, 1, "count-absurd"],
    [50, 3000, "count-absurd"],
  ])("%d contacts in %d s is refused as %s", (contacts, seconds, code) => {
    const result = stopwatchRate({ contacts, seconds, feet: "one" });
    expect(result.ok ? [] : result.problems.map((p) => p.code)).toEqual([code]);
  });

  test("[M3] both feet under one foot is queried", () => {
    const result = stopwatchRate({ contacts: 100, seconds: 35.3, feet: "one" });
    expect(result.ok && result.value.feetQueried).toBe(true);
  });
});
