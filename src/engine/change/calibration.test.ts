import { describe, expect, it } from "vitest";
import { calibrateOne } from "./calibrate-one.ts";
import { calibrate, type Share } from "./calibrate.ts";
import { POWER_EFFECTS_PERCENT, POWER_ROWS } from "./power-table.ts";
import { runsNeeded } from "./runs-to-plan.ts";

// The whole grid runs by `npx tsx scripts/calibration.ts` and, a smaller one than that, by `npm run test:long`.
const long = process.env["SPONDEE_LONG"] !== undefined && process.env["SPONDEE_LONG"] !== "0";
const PER_CELL = long ? 60 : 8;

const atLeast = (share: Share, bar: number): void =>
  expect(
    share.share + 3 * share.monteCarloError,
    `${share.count} histories, Monte-Carlo error ${share.monteCarloError}`,
  ).toBeGreaterThanOrEqual(bar);
const atMost = (share: Share, bar: number): void =>
  expect(
    share.share - 3 * share.monteCarloError,
    `${share.count} histories, Monte-Carlo error ${share.monteCarloError}`,
  ).toBeLessThanOrEqual(bar);

describe("calibration of the comparison", () => {
  it(
    "simulation: intervals hold the truth, nothing is called a change too often, real changes are found, running faster is named",
    () => {
      const report = calibrate(PER_CELL, 20261125);
      expect(report.historyCount).toBeGreaterThanOrEqual(long ? 2000 : 190);
      atLeast(report.coverage, 0.93);
      atMost(report.coverage, 0.97);
      atMost(report.falseChanged, 0.04);
      atLeast(report.fivePercentFound, 0.9);
      atMost(report.fasterCalledChange, 0.04);
      atLeast(report.fasterNamed, 0.9);
      if (long)
        for (const cell of report.coverageByCell.filter(({ runCount }) => runCount >= 2)) atLeast(cell.share, 0.9);
    },
    long ? 400_000 : 60_000,
  );

  it("simulation: an interval that ignored the day-to-day spread would not pass (the check can fail)", () => {
    // The same histories, judged by how far the estimate is from the truth in units of the within-run error alone (about 0.4 %).
    const misses = Array.from({ length: 40 }, (_, k) =>
      calibrateOne(
        { beforeRunCount: 2, afterRunCount: 2, dayToDaySdPercent: 2, changePercent: 0, speedChangePercent: [-5, 5] },
        k + 1,
      ),
    ).filter((history) => Math.abs(history.estimatePercent) > 0.8).length;
    expect(misses).toBeGreaterThan(16);
  });

  it("property: a change added afterwards is the change simulated, because the model is linear in the logarithm", () => {
    const cell = { beforeRunCount: 4, afterRunCount: 4, dayToDaySdPercent: 1, speedChangePercent: [-5, 5] } as const;
    for (let seed = 1; seed <= 12; seed += 1) {
      const moved = calibrateOne({ ...cell, changePercent: 0 }, seed);
      const simulated = calibrateOne({ ...cell, changePercent: 4 }, seed);
      expect(moved.findingIfChanged(4)).toBe(simulated.finding);
      expect(1.04 * (1 + moved.estimatePercent / 100)).toBeCloseTo(1 + simulated.estimatePercent / 100, 6);
    }
  });
});

describe("runsNeeded", () => {
  it("property: more spread never needs fewer runs, more change never more", () => {
    const asNumber = (value: ReturnType<typeof runsNeeded>): number => (typeof value === "number" ? value : Infinity);
    expect(POWER_ROWS).toHaveLength(5);
    for (const row of POWER_ROWS) {
      const along = POWER_EFFECTS_PERCENT.map((effect) => asNumber(runsNeeded(row.dayToDaySdPercent, effect)));
      expect(along).toEqual(along.toSorted((a, b) => b - a));
    }
    for (const effect of POWER_EFFECTS_PERCENT) {
      const down = POWER_ROWS.map((row) => asNumber(runsNeeded(row.dayToDaySdPercent, effect)));
      expect(down).toEqual(down.toSorted((a, b) => a - b));
    }
  });
  it("reads on the careful side between entries, and stops at its edges", () => {
    expect(runsNeeded(1.1, 5.5)).toBe(runsNeeded(1.5, 5));
    expect(runsNeeded(3, 5)).toMatchObject({ kind: "not-enough" });
    expect(runsNeeded(1, 1)).toMatchObject({ kind: "not-enough" });
    expect(() => runsNeeded(0, 5)).toThrow(RangeError);
  });
  it("published: MDC95 of 2.4 % spread is 6.7 % with one run a side and 3.3 % with four, so the simulated table needs two or three for 7.5 % (derived from the formula)", () => {
    const runs = runsNeeded(2.4, 7.5);
    expect(runs === 2 || runs === 3).toBe(true);
  });
});
