import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { RateWindow } from "../recordings/window.ts";
import type { Comparison } from "./comparison.ts";
import { compareRuns } from "./compare-runs.ts";
import type { Run } from "./run.ts";
import { simulateHistory } from "./simulate-history.ts";

/** A noise-free run: constant slope in log speed, speed swinging between 95 and 105 % of its mean. */
function cleanRun(
  id: string,
  spmAt3: number,
  speedMps: number,
  options: { beta?: number; surface?: Run["surface"]; minutes?: number } = {},
): Run {
  const windows: RateWindow[] = Array.from({ length: (options.minutes ?? 20) * 6 }, (_, k) => {
    const speed = speedMps * (1 + 0.05 * Math.sin(k / 11));
    return {
      startS: 10 * k,
      endS: 10 * k + 10,
      stepRateSpm: spmAt3 * (speed / 3) ** (options.beta ?? 0.15),
      speedMps: speed,
      slope: 0,
      heartRateBpm: null,
      quality: 1,
      state: "running",
      cue: null,
    };
  });
  return { id, surface: options.surface ?? "outdoor", windows };
}

function compared(before: readonly Run[], after: readonly Run[], options = {}): Comparison {
  const result = compareRuns(before, after, options);
  if (!result.ok) throw new Error(result.problems.map((problem) => problem.code).join());
  return result.value;
}

describe("compareRuns", () => {
  it("published: 164 spm at 3.00 and 172 at 3.15 m/s is +4.114 % at matched speed with exponent 0.15, raw +4.878 % (check value 13, derived)", () => {
    // The adjusted figure is 172/164 / (3.15/3)^0.15 − 1.
    const before = [cleanRun("a", 164, 3), cleanRun("b", 164, 3)];
    const after = [cleanRun("c", 172 / 1.05 ** 0.15, 3.15), cleanRun("d", 172 / 1.05 ** 0.15, 3.15)];
    const comparison = compared(before, after);
    expectClose(comparison.matchedSpeedChangePercent.estimate, 4.114, {
      atol: 0.02,
      because: "noise-free runs; minutes average a curve",
    });
    expectClose((100 * comparison.rawChangeSpm) / 164, 4.878, { atol: 0.02, because: "same" });
    expectClose(comparison.speedChangePercent, 5, { atol: 0.01, because: "same speeds up to minute averaging" });
  });

  it("published: the speed trap, 164 at 3.0 to 166 at 3.4 m/s, is −0.66 % at matched speed: only ran faster (check value 15, derived)", () => {
    const before = ["a", "b", "c", "d"].map((id, k) => cleanRun(id, 164 + 1.2 * (k - 1.5), 3));
    const after = ["e", "f", "g", "h"].map((id, k) => cleanRun(id, 166 / (3.4 / 3) ** 0.15 + 1.2 * (k - 1.5), 3.4));
    const comparison = compared(before, after);
    expectClose(comparison.matchedSpeedChangePercent.estimate, -0.66, {
      atol: 0.03,
      because: "check value 15 is given to 0.01",
    });
    expectClose(100 * Math.expm1(comparison.split.lnStepLength), 11.97, { atol: 0.03, because: "check value 15" });
    expect(comparison.finding).toBe("faster-only");
  });

  it("closed form: the split is an identity and its shares add to 1", () => {
    const { split } = compared([cleanRun("a", 160, 2.8)], [cleanRun("b", 168, 3.1)]);
    expectClose(split.lnSpeed, split.lnStepRate + split.lnStepLength, { atol: 1e-15, because: "identity" });
    expect((split.stepRateShare as number) + (split.stepLengthShare as number)).toBeCloseTo(1, 12);
  });

  it("[D11] one run a side is never proof, and says how many more runs", () => {
    const comparison = compared([cleanRun("a", 160, 3)], [cleanRun("b", 180, 3)]);
    expect(comparison.finding).toBe("not-enough-evidence");
    const needed = comparison.runsStillNeeded;
    expect("total" in needed && needed.total >= 2 && needed.before >= 1 && needed.after >= 1).toBe(true);
    expect(comparison.sentence).toContain("One run on a side is never proof");
  });

  it("[M4] refuses treadmill against outdoor, and mixed sides", () => {
    const tread = cleanRun("t", 160, 3, { surface: "treadmill" });
    for (const result of [
      compareRuns([cleanRun("a", 160, 3)], [tread]),
      compareRuns([cleanRun("a", 160, 3), tread], [tread]),
    ]) {
      expect(result.ok).toBe(false);
      if (!result.ok) expect(result.problems[0]?.code).toBe("mixed-surfaces");
    }
  });

  it("tells what is missing: no runs, too short, no speed", () => {
    const code = (before: readonly Run[], after: readonly Run[]): string[] => {
      const result = compareRuns(before, after);
      return result.ok ? [] : result.problems.map((problem) => `${problem.code} ${problem.where.field}`);
    };
    const good = cleanRun("a", 160, 3);
    const short = cleanRun("s", 160, 3, { minutes: 3 });
    const speedless = { ...good, windows: good.windows.map((window) => ({ ...window, speedMps: null })) };
    expect(code([], [good])).toEqual(["no-runs before"]);
    expect(code([good], [short])).toEqual(["no-steady-minutes after"]);
    expect(code([good], [speedless])).toEqual(["no-speed after"]);
  });

  it("property: scaling every step rate after by a factor moves the log change by its logarithm and nothing else", () => {
    const { before, after } = simulateHistory(truth, 5);
    const scaled = after.map((run) => ({
      ...run,
      windows: run.windows.map((window) => ({ ...window, stepRateSpm: (window.stepRateSpm ?? 0) * 1.04 })),
    }));
    const [plain, moved] = [compared(before, after), compared(before, scaled)];
    const ln = (percent: number): number => Math.log1p(percent / 100);
    for (const of of [
      (c: Comparison) => c.matchedSpeedChangePercent.estimate,
      (c: Comparison) => c.matchedSpeedChangePercent.interval95.low,
    ])
      expectClose(ln(of(moved)) - ln(of(plain)), Math.log(1.04), {
        atol: 1e-9,
        because: "the model is linear in the logarithm",
      });
  });

  it("property: swapping before and after turns the log change round", () => {
    const { before, after } = simulateHistory(truth, 9);
    const there = compared(before, after, { atSpeedMps: 3 });
    const back = compared(after, before, { atSpeedMps: 3 });
    expectClose(
      Math.log1p(back.matchedSpeedChangePercent.estimate / 100),
      -Math.log1p(there.matchedSpeedChangePercent.estimate / 100),
      {
        atol: 1e-7,
        because: "the optimum of the residual correlation is found to about 1e-7",
      },
    );
  });

  it("property: the order of the runs and frozen input do not matter", () => {
    const { before, after } = simulateHistory(truth, 3);
    for (const run of before) {
      Object.freeze(run);
      Object.freeze(run.windows);
    }
    const one = compared(before, after);
    const other = compared(before.toReversed(), after.toReversed());
    expectClose(other.matchedSpeedChangeSpm.estimate, one.matchedSpeedChangeSpm.estimate, {
      atol: 1e-6,
      because: "same optimum",
    });
  });

  it("leans on the slope, says so, and is less sure when the speeds do not overlap", () => {
    const after = (speed: number): Run[] => ["c", "d", "e"].map((id, k) => cleanRun(id, 165 + k, speed));
    const before = ["a", "b", "x"].map((id, k) => cleanRun(id, 164 + k, 3));
    const near = compared(before, after(3.05));
    const far = compared(before, after(4));
    expect(near.overlap.leansOnSlope).toBe(false);
    expect(far.overlap.leansOnSlope).toBe(true);
    expect(far.warnings.map((warning) => warning.code)).toContain("little-overlap");
    expect(far.sentence).toContain("leans on the usual slope");
  });

  it("offers lines and points for the field: the gap at the reference speed is the change", () => {
    const { before, after } = simulateHistory(truth, 4);
    const comparison = compared(before, after);
    const at = (line: Comparison["beforeLine"]): number => {
      const [first, second] = [line.line[0]!, line.line.at(-1)!];
      const slope = Math.log(second.stepRateSpm / first.stepRateSpm) / Math.log(second.speedMps / first.speedMps);
      return first.stepRateSpm * (comparison.referenceSpeedMps / first.speedMps) ** slope;
    };
    expectClose(at(comparison.afterLine) - at(comparison.beforeLine), comparison.matchedSpeedChangeSpm.estimate, {
      atol: 1e-9,
      because: "same power curve read at the same speed",
    });
    const [first, last] = [comparison.afterLine.line[0]!, comparison.afterLine.line.at(-1)!];
    expectClose(
      Math.log(last.stepRateSpm / first.stepRateSpm) / Math.log(last.speedMps / first.speedMps),
      comparison.shrinkage.speedExponent.estimate,
      { rtol: 1e-9, because: "the line is the power law that was fitted" },
    );
    expect(comparison.beforeLine.runs).toHaveLength(4);
  });

  it("says how much it leaned on borrowed values: all with one run, less with a season at many speeds", () => {
    const single = compared([cleanRun("a", 160, 3)], [cleanRun("b", 162, 3)]).shrinkage;
    const season = simulateHistory(
      { ...truth, beforeRunCount: 15, afterRunCount: 15, minutesPerRun: 40, exponent: 0.2 },
      2,
    );
    const many = compared(season.before, season.after).shrinkage;
    expect(single.dayToDaySdPercent.priorShare).toBeGreaterThan(0.5);
    expect(many.dayToDaySdPercent.priorShare).toBeLessThan(0.1);
    expect(many.speedExponent.priorShare).toBeLessThan(0.8);
    expect(many.speedExponent.estimate).toBeGreaterThan(0.15);
    expect(many.dayToDaySdPercent.interval95.low).toBeLessThan(1.1);
    expect(many.dayToDaySdPercent.interval95.high).toBeGreaterThan(1);
  });
});

const truth = {
  beforeRunCount: 4,
  afterRunCount: 4,
  minutesPerRun: 20,
  changePercent: 4,
  speedChangePercent: 2,
  exponent: 0.15,
  dayToDaySdPercent: 1,
  windowRho: 0.9,
  residualSdPercent: 0.8,
  positionErrorM: 3,
  speedBiasSdPercent: 1,
} as const;
