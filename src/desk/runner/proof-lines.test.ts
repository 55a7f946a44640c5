import { describe, expect, it } from "vitest";
import type { Comparison } from "../../api/index.ts";
import { createFormat } from "../../ui/words/format.ts";
import { proofLines } from "./proof-lines.ts";

const format = createFormat({ locale: "en", feet: "both", speed: "min-per-km" });
const known = (estimate: number, half: number) => ({
  estimate,
  standardError: half / 2,
  interval95: { low: estimate - half, high: estimate + half },
  sampleCount: 6,
  method: "test",
});
const nothing = { overall: null, early: null, later: null };
const side = (runCount: number): Comparison["before"] => ({
  line: [],
  runs: [{ recordingId: "a", speedMps: 2.8, stepRateSpm: 160, startedAt: null }],
  minutes: [],
  runCount,
});
const details: Comparison["details"] = {
  everyLook: { verdict: "go-on", wantedChangePercent: 3 },
  dayToDaySdPercent: { estimate: 1.5, low95: 0.8, high95: 2.9 },
  cost: { heartRateBpm: nothing, effort: nothing },
  weeks: null,
};
const comparison = (more: Partial<Comparison["details"]> = {}, runCount = 3): Comparison => ({
  kind: "comparison",
  finding: "changed",
  sentence: "",
  referenceSpeedMps: 2.8,
  matchedSpeedChangeSpm: { estimate: 7, low95: 4, high95: 10 },
  matchedSpeedChangeShare: 0.045,
  rawChangeSpm: 7,
  speedChangePercent: 0,
  targetShare: null,
  split: { lnSpeed: 0, lnStepRate: 0, lnStepLength: 0, stepRateShare: null, stepLengthShare: null },
  runsStillNeeded: null,
  lateRunDropSpm: { before: null, after: null },
  carryOver: null,
  before: side(runCount),
  after: side(runCount),
  details: { ...details, ...more },
  borrowed: [],
  warnings: [],
});
const textOf = (name: string, of: Comparison): string | undefined =>
  proofLines(of, undefined, format).find((line) => line.name === name)?.text;

describe("what stands beside the finding", () => {
  it("closed form: 1.5 % of 160 is 2.4 steps a minute from day to day", () => {
    const said = textOf("From day to day", comparison());
    expect(said).toContain("1.5\u00a0% (2.4\u00a0spm)");
    expect(said).toContain("0.8\u00a0% to 2.9\u00a0%");
  });

  it("says what the runs before can show at all", () => {
    const weeks = {
      points: [],
      trendSpmPerWeek: null,
      repeats: { runCount: 3, typicalErrorSpm: 2.1, detectableSpm: 3.4 },
    };
    expect(textOf("From day to day", comparison({ weeks }))).toContain(
      "The 3 runs before differ by 2.1\u00a0spm; as many on each side can tell 3.4\u00a0spm or more from nothing.",
    );
  });

  it("tells a look that may be chance from one that holds, and says nothing of it from a single run", () => {
    expect(textOf("Looked at every week", comparison())).toContain("May still be chance");
    const holds = comparison({ everyLook: { verdict: "changed", wantedChangePercent: 3 } });
    expect(textOf("Looked at every week", holds)).toContain("holds however many times");
    const none = comparison({ everyLook: { verdict: "no-change", wantedChangePercent: 3 } });
    expect(textOf("Looked at every week", none)).toContain("3\u00a0% is not there");
    expect(textOf("Looked at every week", comparison({}, 1))).toBeUndefined();
  });

  it("tells what it cost at first and later, and whether it faded", () => {
    const cost = {
      heartRateBpm: { overall: known(4, 2), early: known(6, 2), later: known(1, 2) },
      effort: { overall: known(0.5, 1), early: null, later: null },
    };
    expect(textOf("Heart rate", comparison({ cost }))).toBe(
      "First two weeks: +6.0 beats a minute at the same speed (+4.0 to +8.0). Later: +1.0 beats a minute at the same speed (−1.0 to +3.0). It has become easier again.",
    );
    expect(textOf("Effort, 0–10", comparison({ cost }))).toBe("+0.5 points (−0.5 to +1.5).");
    expect(textOf("Heart rate", comparison())).toContain("needs two runs with heart rate");
  });

  it("tells the trend over the weeks with its interval", () => {
    const weeks = { points: [], trendSpmPerWeek: known(1.5, 0.6), repeats: null };
    expect(textOf("Over the weeks", comparison({ weeks }))).toBe(
      "+1.5\u00a0spm a week at the same speed (+0.9 to +2.1).",
    );
    expect(textOf("Over the weeks", comparison())).toBeUndefined();
  });
});
