import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { compareRuns } from "./compare-runs.ts";
import { simulateHistory } from "./simulate-history.ts";
import { targetReached } from "./target-reached.ts";

const history = simulateHistory(
  {
    beforeRunCount: 4,
    afterRunCount: 4,
    minutesPerRun: 25,
    changePercent: 4,
    speedChangePercent: 0,
    exponent: 0.15,
    dayToDaySdPercent: 0.7,
    windowRho: 0.85,
    residualSdPercent: 0.7,
    positionErrorM: 2,
    speedBiasSdPercent: 0.5,
    stepRateSpm: 164,
    speedMps: 3,
  },
  12,
);

describe("targetReached", () => {
  const result = compareRuns(history.before, history.after, { atSpeedMps: 3 });
  if (!result.ok) throw new Error("refused");
  const comparison = result.value;

  it("closed form: change over wanted change, the target brought to the reference speed", () => {
    const wanted = { stepRateSpm: 176, speedMps: 3.2 };
    const reached = targetReached(comparison, wanted);
    if ("kind" in reached) throw new Error(reached.need);
    const wantedSpm = 176 * (3 / 3.2) ** 0.15 - comparison.beforeSpm;
    expectClose(reached.estimate, comparison.matchedSpeedChangeSpm.estimate / wantedSpm, {
      rtol: 1e-12,
      because: "definition",
    });
    expectClose(comparison.afterSpm - comparison.beforeSpm, comparison.matchedSpeedChangeSpm.estimate, {
      rtol: 1e-9,
      because: "identity",
    });
    // 164 spm and +4 % of it, of the 10.3 spm wanted.
    expectClose(reached.estimate, 6.6 / 10.3, { atol: 0.3, because: "four runs a side at 0.7 % from day to day" });
    expect(reached.interval95.low).toBeLessThan(reached.estimate);
  });

  it("has no share of a target that is no change", () => {
    expect(targetReached(comparison, { stepRateSpm: comparison.beforeSpm + 0.5, speedMps: 3 })).toMatchObject({
      kind: "not-enough",
    });
  });
});
