import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { Baseline } from "../baseline/baseline.ts";
import { type ProposalInput, proposeChange } from "./propose.ts";
import type { Proposal } from "./proposal.ts";
import { checkSettings, defaultSettings } from "./settings.ts";

const seed = 20_260_302;

function baselineOf(stepRateSpm: number, speedMps?: number, standardError = 1): Baseline {
  return {
    stepRateSpm: {
      estimate: stepRateSpm,
      standardError,
      interval95: { low: stepRateSpm - 2 * standardError, high: stepRateSpm + 2 * standardError },
      sampleCount: 2,
      method: "counted for a minute, twice",
    },
    ...(speedMps === undefined ? {} : { speedMps }),
    surface: "outdoor",
  };
}

function propose(stepRateSpm: number, rest: Partial<ProposalInput> = {}): Proposal {
  return proposeChange({ baseline: baselineOf(stepRateSpm, 2.8), ...rest });
}

const rulesOf = (proposal: Proposal): string[] => proposal.reasons.map((entry) => entry.rule);

describe("targets", () => {
  it("[T1] without a baseline there is no proposal, and it says what is needed", () => {
    const proposal = proposeChange({
      baseline: { kind: "not-enough", need: "a minute counted twice", have: "one count of 15 s" },
    });
    expect(proposal.advice).toBe("measure-first");
    expect(proposal.aimSpm).toBeNull();
    expect(proposal.stages).toEqual([]);
    expect(proposal.reasons[0]).toMatchObject({ rule: "T1" });
    expect(proposal.reasons[0]!.text).toContain("a minute counted twice");
  });

  it("[T1] a baseline with a standard error above 2 spm is measured again; 2.0 is enough", () => {
    expect(proposeChange({ baseline: baselineOf(160, 2.8, 2.01) }).advice).toBe("measure-first");
    expect(proposeChange({ baseline: baselineOf(160, 2.8, 2) }).advice).toBe("change");
  });

  it("[T2] in the band, above it, or less than the smallest worthwhile change below it: leave alone", () => {
    for (const rate of [168.1, 170, 175, 180, 195]) {
      const proposal = propose(rate);
      expect(proposal.advice, String(rate)).toBe("leave-alone");
      expect(rulesOf(proposal)[0]).toBe("T2");
      expect(proposal.targetSpm).toBeNull();
    }
    expect(propose(168).advice).toBe("change");
  });

  it("[T2] a little pain inside the band is no reason to leave alone; above the band there is nothing to raise", () => {
    expect(propose(172, { painNow0to10: 1 })).toMatchObject({ advice: "change", aimSpm: 180 });
    expect(propose(181, { painNow0to10: 1 }).advice).toBe("leave-alone");
  });

  it("[T3] the nearest of band edge, +7.5 % and the coach's goal", () => {
    expect(propose(164).aimSpm).toBe(170);
    // 150 + 7.5 % = 161.25, rounded down to the half; five stages reach only 160.
    expect(propose(150).aimSpm).toBe(160);
    const wide = checkSettings({ stageCountMax: 12 });
    expect(wide.ok && propose(150, { settings: wide.value }).aimSpm).toBe(161);
    expect(propose(160, { coachGoalSpm: 164 }).aimSpm).toBe(164);
    expect(propose(164, { coachGoalSpm: 178 }).aimSpm).toBe(170);
    expect(propose(164, { coachGoalSpm: 158 }).aimSpm).toBe(170);
  });

  it("[T4] property: nothing is ever above 110 % of the baseline", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 120, max: 169, noNaN: true }),
        fc.option(fc.double({ min: 100, max: 230, noNaN: true }), { nil: undefined }),
        fc.integer({ min: 1, max: 20 }),
        (rate, goal, stageCountMax) => {
          const settings = { ...defaultSettings, stageCountMax, commonBandLowSpm: 190, usualRiseShare: 0.1 };
          const proposal = propose(rate, { settings, ...(goal === undefined ? {} : { coachGoalSpm: goal }) });
          expect(proposal.capSpm).toBe(rate * 1.1);
          for (const stage of proposal.stages) expect(stage).toBeLessThanOrEqual(rate * 1.1);
          expect(proposal.targetSpm!.high).toBeLessThanOrEqual(rate * 1.1);
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it("[T5] calf, Achilles or bone trouble: at most +5 %, half-size stages", () => {
    for (const history of ["calf", "achilles", "bone"] as const) {
      const proposal = propose(160, { history: ["none", history] });
      expect(proposal.capSpm).toBe(168);
      expect(proposal.careful).toBe(true);
      expect(proposal.stages).toEqual([161, 162, 163, 164, 165]);
      expect(rulesOf(proposal)).toContain("T5");
    }
    expect(propose(160, { history: ["none"] }).careful).toBe(false);
  });

  it("[T6] pain above 2 of 10 or a warning sign refers, before anything else is looked at", () => {
    expect(propose(175, { painNow0to10: 3 }).advice).toBe("refer");
    expect(propose(160, { painNow0to10: 2 }).advice).toBe("change");
    const flagged = proposeChange({
      baseline: { kind: "not-enough", need: "x", have: "y" },
      redFlags: ["bone-spot", "limp"],
    });
    expect(flagged.advice).toBe("refer");
    expect(flagged.reasons[0]!.text).toContain("pain on one spot of bone and a limp");
    expect(flagged.stages).toEqual([]);
  });

  it("[T7] closed form: the table follows (v/v0)^0.15 and L = 60 v / f, slow paces first", () => {
    const { paceTable, aimSpm } = propose(164);
    expect(aimSpm).toBe(170);
    expect(paceTable.length).toBeGreaterThanOrEqual(5);
    expect(paceTable.map((row) => row.speedMps)).toEqual(paceTable.map((row) => row.speedMps).sort((a, b) => a - b));
    for (const row of paceTable) {
      expectClose(row.stepRateSpm, 170 * (row.speedMps / 2.8) ** 0.15, { rtol: 1e-12, because: "the law itself" });
      expectClose(row.stepRateSpm * row.stepLengthM, 60 * row.speedMps, { rtol: 1e-12, because: "an identity" });
    }
    expect(paceTable.some((row) => Math.abs(row.speedMps - 2.8) < 1e-12)).toBe(true);
  });

  it("[T7] the runner's own exponent is used, an impossible one is not, and it says so", () => {
    expect(propose(164, { speedExponent: 0.3 }).speedExponent).toBe(0.3);
    const odd = propose(164, { speedExponent: -0.4 });
    expect(odd.speedExponent).toBe(0.15);
    expect(odd.cautions.join(" ")).toContain("was not used");
  });

  it("[T7] a baseline measured at another speed is brought to the target's speed", () => {
    const proposal = proposeChange({ baseline: baselineOf(160, 3), speedMps: 2.7 });
    expectClose(proposal.baselineSpm!, 160 * 0.9 ** 0.15, { rtol: 1e-12, because: "power law" });
    expect(proposal.speedMps).toBe(2.7);
  });

  it("[T8] height and leg length flag, and never move the target", () => {
    const plain = propose(140);
    const flagged = propose(140, { heightM: 1.6, legLengthM: 1.2 });
    expect(rulesOf(flagged).filter((rule) => rule === "T8")).toHaveLength(2);
    expect(rulesOf(propose(164, { heightM: 1.75, legLengthM: 0.93 }))).not.toContain("T8");
    expect(flagged.aimSpm).toBe(plain.aimSpm);
    expect(flagged.stages).toEqual(plain.stages);
  });

  it("[T9] every proposal to change, or not to, says what is not known", () => {
    for (const proposal of [propose(160), propose(175)]) {
      const last = proposal.reasons.at(-1)!;
      expect(last.rule).toBe("T9");
      expect(last.sources).toContain("claims-ceiling");
      expect(last.text).toContain("Not known");
    }
  });

  it("[P1] stages of 2 spm, the last one smaller, ending at the aim", () => {
    expect(propose(165).stages).toEqual([167, 169, 170]);
    expect(propose(160).stages).toEqual([162, 164, 166, 168, 170]);
    // A last stage of half a step would be smaller than half a stage: spread instead.
    expect(propose(163.5).stages).toEqual([165, 166.5, 168, 170]);
  });

  it("[P1] property: no stage above 2 spm or 2.5 % of the baseline; they rise and end at the aim", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 120, max: 168, noNaN: true }),
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.boolean(),
        (rate, stageStepSpm, careful) => {
          const settings = { ...defaultSettings, stageStepSpm };
          const proposal = propose(rate, { settings, history: [careful ? "calf" : "none"] });
          const largest = Math.max(0.5, Math.min(stageStepSpm, 0.025 * rate) * (careful ? 0.5 : 1));
          let before = rate;
          for (const stage of proposal.stages) {
            expect(stage).toBeGreaterThan(before);
            expect(stage - before).toBeLessThanOrEqual(largest + 1e-9);
            before = stage;
          }
          expect(proposal.stages.at(-1)).toBe(proposal.aimSpm);
        },
      ),
      { seed, numRuns: 500 },
    );
  });

  it("[P11] at most five stages; the rest waits for the next programme", () => {
    const proposal = propose(150);
    expect(proposal.stages).toHaveLength(5);
    expect(rulesOf(proposal)).toContain("P11");
    expect(rulesOf(propose(160))).not.toContain("P11");
  });

  it("refuses what cannot be a rating or a step rate", () => {
    expect(() => propose(160, { painNow0to10: 11 })).toThrow("painNow0to10 must be 0 to 10");
    expect(() => propose(0)).toThrow("above 0 spm");
  });

  it("does not change what it is given", () => {
    const input = Object.freeze({
      baseline: Object.freeze(baselineOf(160, 2.8)),
      history: Object.freeze(["calf"] as const),
    });
    expect(proposeChange(input)).toEqual(proposeChange(input));
  });
});
