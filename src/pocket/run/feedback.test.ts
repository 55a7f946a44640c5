import { describe, expect, it } from "vitest";
import { feedbackFor, settle, UNSETTLED } from "./feedback.ts";

const facts = (stepRateSpm: number, speedMps: number | null = 2.7) => ({
  stepRateSpm,
  targetSpm: 170,
  speedMps,
  targetSpeedMps: 2.7,
});

describe("the word while running", () => {
  it("the band is 1.5 % to either side: 167.45 to 172.55 at 170", () => {
    expect(feedbackFor(facts(167.4))).toBe("quicker");
    expect(feedbackFor(facts(167.5))).toBe("on-it");
    expect(feedbackFor(facts(172.5))).toBe("on-it");
    expect(feedbackFor(facts(172.6))).toBe("slower");
  });

  it("[D5] more than 3 % faster than planned asks for the same speed with shorter steps, in the band and below it", () => {
    expect(feedbackFor(facts(170, 2.7 * 1.031))).toBe("shorter");
    expect(feedbackFor(facts(160, 2.7 * 1.031))).toBe("shorter");
    expect(feedbackFor(facts(170, 2.7 * 1.029))).toBe("on-it");
    expect(feedbackFor(facts(175, 2.9))).toBe("slower");
  });

  it("without a known speed nothing is said about speed", () => {
    expect(feedbackFor(facts(170, null))).toBe("on-it");
    expect(feedbackFor({ ...facts(170, 4), targetSpeedMps: null })).toBe("on-it");
  });

  it("a new word is shown only after it held for three seconds; the first at once; no answer clears it", () => {
    let state = settle(UNSETTLED, "quicker", 0);
    expect(state.shown).toBe("quicker");
    for (const timeS of [0.5, 1, 3.25]) {
      state = settle(state, "on-it", timeS);
      expect(state.shown).toBe("quicker");
    }
    expect(settle(state, "on-it", 3.5).shown).toBe("on-it");
    // Back in between: the wait starts anew.
    state = settle(settle(state, "quicker", 3.25), "on-it", 3.5);
    expect(settle(state, "on-it", 6.25).shown).toBe("quicker");
    expect(settle(state, "on-it", 6.5).shown).toBe("on-it");
    expect(settle(state, undefined, 7).shown).toBeUndefined();
  });
});
