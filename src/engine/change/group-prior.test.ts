import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { DAY_TO_DAY_SD, SPEED_EXPONENT } from "../evidence/change.ts";
import { createRandom } from "../quantities/random.ts";
import { compareRuns } from "./compare-runs.ts";
import { groupPriorOf, type GroupPrior, type GroupRun } from "./group-prior.ts";
import { groupRunsOf } from "./run-means.ts";
import { simulateHistory, type HistoryTruth } from "./simulate-history.ts";

function prior(runs: readonly GroupRun[]): GroupPrior {
  const result = groupPriorOf(runs);
  if ("kind" in result) throw new Error(result.have);
  return result;
}

const truth: Omit<HistoryTruth, "beforeRunCount" | "afterRunCount" | "exponent" | "dayToDaySdPercent"> = {
  minutesPerRun: 12,
  changePercent: 4,
  speedChangePercent: 2,
  windowRho: 0.85,
  residualSdPercent: 0.8,
  positionErrorM: 3,
  speedBiasSdPercent: 1,
};

describe("groupPriorOf", () => {
  it("closed form: pairs at ±1 % around the mean have spread √2·1 % on their degrees of freedom, drawn towards the published one by its share", () => {
    // Thirty runners, two runs each at one speed: 60 rows, 30 means and a slope leave 29.
    const runs = Array.from(
      { length: 60 },
      (_, k): GroupRun => ({
        runnerId: `r${Math.floor(k / 2)}`,
        phase: "before",
        lnStepRate: 5 + Math.floor(k / 2) / 10 + (k % 2 === 0 ? 0.01 : -0.01),
        lnSpeed: 1,
      }),
    );
    const found = prior(runs);
    const spread = Math.sqrt((60 * 0.01 ** 2) / 29);
    const between = 0.8 ** 2 - 0.5 ** 2;
    const share = between / (between + 1 / 58 + 0.25 / 30);
    expectClose(Math.log(found.dayToDay.median), (1 - share) * Math.log(0.015) + share * Math.log(spread), {
      rtol: 1e-12,
      because: "precision weights of two logarithms",
    });
    expectClose(found.dayToDay.logSd ** 2, 0.25 + (1 - share) * between, {
      rtol: 1e-12,
      because: "runners and what is left of groups",
    });
    expectClose(found.publishedShare.dayToDay, 1 - share, { rtol: 1e-12, because: "the rest" });
    expect(found.exponent.mean).toBe(SPEED_EXPONENT.value.mean);
    expect(found.publishedShare.exponent).toBe(1);
  });

  it("closed form: an exponent shown without error is taken over, its spread between runners kept", () => {
    const runs = Array.from({ length: 40 }, (_, k): GroupRun => {
      const lnSpeed = 1 + 0.05 * (k % 4);
      return { runnerId: `r${Math.floor(k / 4)}`, phase: "after", lnStepRate: 5 + 0.2 * lnSpeed, lnSpeed };
    });
    const { exponent, runnerCount } = prior(runs);
    expectClose(exponent.mean, 0.2, { rtol: 1e-3, because: "no error" });
    expectClose(exponent.sd, SPEED_EXPONENT.value.sd, { rtol: 1e-3, because: "runners still differ" });
    expect(runnerCount).toBe(10);
  });

  it("has nothing to lend from four runners or from single runs", () => {
    const runs = (runners: number, each: number): GroupRun[] =>
      Array.from({ length: runners * each }, (_, k) => ({
        runnerId: `r${Math.floor(k / each)}`,
        phase: "before",
        lnStepRate: 5,
        lnSpeed: 1,
      }));
    expect(groupPriorOf(runs(4, 9))).toMatchObject({ kind: "not-enough" });
    expect(groupPriorOf(runs(30, 1))).toMatchObject({ kind: "not-enough", have: "0 runners, 0 runs" });
    expect(groupPriorOf([])).toMatchObject({ kind: "not-enough" });
  });

  it("simulation: a steady group makes intervals narrower than published values do, and they still hold the truth in 92 to 99.5 % (60 runners of six groups, Monte-Carlo error 2.8 %)", () => {
    const random = createRandom(31);
    let [held, narrower] = [0, 0];
    for (let group = 0; group < 6; group += 1) {
      const runners = Array.from({ length: 10 }, (_, k) => ({
        id: `r${k}`,
        ...simulateHistory(
          {
            ...truth,
            beforeRunCount: 2,
            afterRunCount: 2,
            exponent: 0.15 + 0.03 * random.normal(),
            dayToDaySdPercent: 0.9 * Math.exp(0.4 * random.normal()),
          },
          random.below(2 ** 31),
        ),
      }));
      for (const runner of runners) {
        const groupPrior = prior(groupRunsOf(runners.filter((other) => other !== runner)));
        const width = (options: Parameters<typeof compareRuns>[2]): { low: number; high: number } => {
          const result = compareRuns(runner.before, runner.after, options);
          if (!result.ok) throw new Error("refused");
          expect(result.value.shrinkage.priorFrom).toBe(options?.groupPrior === undefined ? "published" : "group");
          return result.value.matchedSpeedChangePercent.interval95;
        };
        const [borrowed, published] = [width({ groupPrior }), width({})];
        if (borrowed.low <= 4 && 4 <= borrowed.high) held += 1;
        if (borrowed.high - borrowed.low < published.high - published.low) narrower += 1;
      }
    }
    expect(held / 60).toBeGreaterThan(0.9);
    expect(narrower).toBeGreaterThan(40);
    expect(DAY_TO_DAY_SD.value.median).toBe(0.015);
  });
});
