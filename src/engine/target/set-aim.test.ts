import { describe, expect, it } from "vitest";
import type { Baseline } from "../baseline/baseline.ts";
import { proposeChange } from "./propose.ts";
import { setAim } from "./set-aim.ts";

const baseline = (estimate: number): Baseline => ({
  stepRateSpm: {
    estimate,
    standardError: 1,
    interval95: { low: estimate - 2, high: estimate + 2 },
    sampleCount: 2,
    method: "count",
  },
  speedMps: 2.8,
  surface: "outdoor",
});
const by = { by: "Coach Ilse", at: "2026-03-01", reason: "asked for by the runner" };

describe("the coach's own aim", () => {
  it("[D10] is taken, with name, reason and what the advice was", () => {
    const result = setAim(proposeChange({ baseline: baseline(174) }), { ...by, aimSpm: 178 });
    expect(result.ok).toBe(true);
    if (!result.ok) return;
    expect(result.value).toMatchObject({ advice: "change", aimSpm: 178, stages: [176, 178], coachAim: by });
    expect(result.value.reasons[0]!.rule).toBe("D10");
    expect(result.value.reasons[0]!.text).toContain("leave it alone");
    expect(result.value.reasons.map((entry) => entry.rule)).toContain("T2");
  });

  it("[T4] is refused above the cap, and below the baseline", () => {
    const proposal = proposeChange({ baseline: baseline(160) });
    for (const aimSpm of [176.5, 160, 150, Number.NaN]) {
      const result = setAim(proposal, { ...by, aimSpm });
      expect(result.ok, String(aimSpm)).toBe(false);
      if (!result.ok) expect(result.problems[0]!.code).toBe("aim-outside-cap");
    }
  });

  it("[T5] is refused above the careful cap", () => {
    const proposal = proposeChange({ baseline: baseline(160), history: ["bone"] });
    expect(setAim(proposal, { ...by, aimSpm: 168.5 }).ok).toBe(false);
    const taken = setAim(proposal, { ...by, aimSpm: 163 });
    expect(taken.ok && taken.value.stages).toEqual([161, 162, 163]);
  });

  it("[D10] after the advice to refer a typed reason is needed, and the advice stays to be read", () => {
    const proposal = proposeChange({ baseline: baseline(160), painNow0to10: 4 });
    const refused = setAim(proposal, { ...by, reason: " ", aimSpm: 164 });
    expect(refused.ok).toBe(false);
    if (!refused.ok) expect(refused.problems[0]!.code).toBe("aim-needs-reason");
    const taken = setAim(proposal, { ...by, reason: "seen by the physiotherapist", aimSpm: 164 });
    expect(taken.ok && taken.value.reasons.map((entry) => entry.rule)).toEqual(["D10", "T6"]);
  });

  it("[T1] needs a baseline", () => {
    const proposal = proposeChange({ baseline: { kind: "not-enough", need: "a count", have: "nothing" } });
    const result = setAim(proposal, { ...by, aimSpm: 170 });
    expect(!result.ok && result.problems[0]!.code).toBe("aim-without-baseline");
  });
});
