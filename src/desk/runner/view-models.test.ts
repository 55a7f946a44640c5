import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { BaselineAnswer, Comparison } from "../../api/index.ts";
import { along } from "../../ui/pictures/before-after-layout.ts";
import { createFormat } from "../../ui/words/format.ts";
import { exponentOf, fieldData } from "./field-data.ts";
import { sayLine } from "./say.ts";
import { splitWord } from "./split-word.ts";
import { timelineOf } from "./timeline-model.ts";

const format = createFormat({ locale: "en", feet: "both", speed: "min-per-km" });
const side = (spm: number, runCount = 4): Comparison["before"] => ({
  line: [3.1, 2.5].map((speedMps) => ({ speedMps, stepRateSpm: spm * (speedMps / 2.8) ** 0.15 })),
  runs: [{ recordingId: "a", speedMps: 2.8, stepRateSpm: spm, startedAt: null }],
  minutes: [],
  runCount,
});
const comparison = (more: Partial<Comparison> = {}): Comparison => ({
  kind: "comparison",
  finding: "changed",
  sentence: "",
  referenceSpeedMps: 2.8,
  matchedSpeedChangeSpm: { estimate: 7.2, low95: 4.1, high95: 10.3 },
  matchedSpeedChangeShare: 0.047,
  rawChangeSpm: 7,
  speedChangePercent: 0.4,
  targetShare: null,
  split: { lnSpeed: 0, lnStepRate: 0, lnStepLength: 0, stepRateShare: null, stepLengthShare: null },
  runsStillNeeded: null,
  lateRunDropSpm: { before: null, after: null },
  carryOver: null,
  before: side(153),
  after: side(160),
  details: {
    everyLook: { verdict: "go-on", wantedChangePercent: 3 },
    dayToDaySdPercent: { estimate: 1.5, low95: 0.8, high95: 2.9 },
    cost: {
      heartRateBpm: { overall: null, early: null, later: null },
      effort: { overall: null, early: null, later: null },
    },
    weeks: null,
  },
  borrowed: [],
  warnings: [],
  ...more,
});
const baseline: BaselineAnswer = {
  kind: "baseline",
  stepRateSpm: {
    estimate: 156.2,
    standardError: 0.8,
    interval95: { low: 155, high: 158 },
    sampleCount: 2,
    method: "two counts",
  },
  speedMps: 2.8,
  surface: "outdoor",
  from: { countIds: [], recordingIds: [] },
  warnings: [],
};

describe("the line a coach reads first", () => {
  it("[D11] says what changed at the same speed, and how sure that is", () => {
    expect(sayLine(comparison(), baseline, format)).toEqual({
      strong: "About 7\u00a0spm quicker at the same speed",
      rest: "95 % sure it is between +4 and +10, from 4 runs each side.",
    });
  });

  it("[D11] with too little it says so and how much more it would take", () => {
    const said = sayLine(
      comparison({ finding: "not-enough-evidence", runsStillNeeded: 3, before: side(153, 1), after: side(160, 2) }),
      baseline,
      format,
    );
    expect(said.strong).toBe("");
    expect(said.rest).toContain("Not enough evidence yet");
    expect(said.rest).toContain("About 3 more runs");
    expect(said.rest).toContain("1 run before and 2 after");
  });

  it("[D5] a rise of speed above 3 % is told", () => {
    expect(sayLine(comparison({ finding: "both", speedChangePercent: 6 }), baseline, format).rest).toContain(
      "Speed rose by 6\u00a0% too.",
    );
    expect(sayLine(comparison({ speedChangePercent: 2.9 }), baseline, format).rest).not.toContain("Speed rose");
  });

  it("a drop is told without a sign", () => {
    const dropped = comparison({ finding: "dropped", matchedSpeedChangeSpm: { estimate: -4, low95: -7, high95: -1 } });
    expect(sayLine(dropped, baseline, format).strong).toBe("About 4\u00a0spm slower at the same speed");
  });

  it("without a comparison it says the baseline, without that what is missing", () => {
    expect(sayLine(undefined, baseline, format).rest).toContain("156\u00a0spm at 5:57\u00a0per km");
    expect(sayLine(undefined, { kind: "not-enough", need: "one counted minute", have: "nothing" }, format).rest).toBe(
      "No baseline yet. To say more: one counted minute.",
    );
  });
});

describe("the field's data", () => {
  it("carries the server's lines and gap over unchanged", () => {
    const data = fieldData(comparison(), baseline, undefined, undefined);
    expect(data.before?.line.map((point) => point.speedMps)).toEqual([2.5, 3.1]);
    expect(data.before?.runs).toEqual([{ speedMps: 2.8, stepRateSpm: 153 }]);
    expect(data.gap).toEqual({ speedMps: 2.8, changeSpm: 7.2, interval95: { low: 4.1, high: 10.3 } });
  });

  it("a baseline alone is a line through its own speed, and there is no gap", () => {
    const data = fieldData(undefined, baseline, undefined, undefined);
    const line = data.before?.line ?? [];
    expectClose(along(line, 2.8), 156.2, { rtol: 1e-9, because: "the line goes through the baseline" });
    expect(line[0]?.speedMps).toBeLessThan(2.8);
    expect(data.gap).toBeUndefined();
  });

  it("closed form: a table of 160 and 160·1.1^0.15 at speeds 2.5 and 2.75 has exponent 0.15", () => {
    const table = [
      { speedMps: 2.5, stepRateSpm: 160 },
      { speedMps: 2.75, stepRateSpm: 160 * 1.1 ** 0.15 },
    ];
    expectClose(exponentOf(table) ?? 0, 0.15, { rtol: 1e-9, because: "logarithm of a power" });
    expect(exponentOf(table.slice(0, 1))).toBeUndefined();
  });
});

describe("a run in a word", () => {
  const ln = (speed: number, rate: number) => ({ lnSpeed: Math.log(speed), lnStepRate: Math.log(rate) });

  it("a faster run along one's own line is only a faster run", () => {
    // 10 % faster lifts the step rate by 1.1^0.15 = 1.44 % all by itself.
    expect(splitWord(ln(1.1, 1.1 ** 0.15), 0.15)).toBe("just ran faster");
    expect(splitWord(ln(0.9, 0.9 ** 0.15), 0.15)).toBe("just ran easier");
  });

  it("the same speed with quicker steps is what was asked for", () => {
    expect(splitWord(ln(1.003, 1.042), 0.15)).toBe("same speed, quicker");
    expect(splitWord(ln(1, 0.97), 0.15)).toBe("same speed, slower");
    expect(splitWord(ln(1.06, 1.05), 0.15)).toBe("faster and quicker");
    expect(splitWord(ln(1.01, 1.004), 0.15)).toBe("as before");
  });
});

describe("timeline", () => {
  it("puts everything in one order, newest first", () => {
    const events = timelineOf({
      counts: [{ id: "1", measuredAt: "2026-03-02T18:00:00Z" }],
      recordings: [{ id: "2", startedAt: null, uploadedAt: "2026-03-04T08:00:00Z" }],
      pain: [{ id: "3", at: "2026-03-03T07:00:00Z" }],
      forms: [],
      reports: [],
    });
    expect(events.map((event) => event.item.id)).toEqual(["2", "3", "1"]);
  });
});
