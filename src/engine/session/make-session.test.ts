import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { makeSession, mainBlocks, type SessionValues } from "./make-session.ts";
import type { Session } from "./session.ts";
import { starterTemplates } from "./starter-templates.ts";

const values: SessionValues = {
  id: "2026-03-03",
  targetSpm: 166,
  previousSpm: 164,
  baselineSpm: 160,
  speedMps: 2.8,
  mainMinutes: 20,
  cueShare: 1,
  firstOfStage: true,
};

const seconds = (session: Pick<Session, "blocks">, kind: string): number =>
  session.blocks.filter((block) => block.kind === kind).reduce((sum, block) => sum + block.durationS!, 0);

describe("a session", () => {
  it("is warm-up, the beat standing still, the run, a part without the beat, cool-down", () => {
    const session = makeSession(values);
    expect(session.blocks.map((block) => [block.kind, block.durationS])).toEqual([
      ["warm-up", 600],
      ["standing-drill", 120],
      ["cue-on", 1200],
      ["cue-off", 180],
      ["cool-down", 300],
    ]);
    const drill = session.blocks[1]!;
    expect(drill.stepRateSpm).toBe(166);
    expect(drill.speedMps).toBeUndefined();
    expect(drill.distanceM).toBeUndefined();
  });

  it("closed form: names the shorter step at the same speed, 60·2.8/160 − 60·2.8/166 = 3.8 cm", () => {
    const beat = makeSession(values).blocks.find((block) => block.kind === "cue-on")!;
    expect(beat.note).toContain("about 4 cm shorter (1.01 m instead of 1.05 m)");
    const imperial = makeSession({ ...values, units: { feet: "one", speed: "min-per-mile" } });
    expect(imperial.blocks.find((block) => block.kind === "cue-on")!.note).toContain("about 1.5 in shorter");
  });

  it("has no standing drill after the first session of a stage", () => {
    const session = makeSession({ ...values, firstOfStage: false });
    expect(session.blocks.map((block) => block.kind)).not.toContain("standing-drill");
  });

  it("property: the main part is its minutes to the second, the beat its share, on first, no beat under a minute", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 240 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (mainMinutes, cueShare) => {
          const blocks = mainBlocks({ ...values, mainMinutes, cueShare });
          const total = blocks.reduce((sum, block) => sum + block.durationS!, 0);
          expect(total).toBe(mainMinutes * 60);
          expectClose(seconds({ blocks }, "cue-on"), mainMinutes * 60 * cueShare, {
            atol: 0.5,
            because: "whole seconds",
          });
          const on = blocks.filter((block) => block.kind === "cue-on");
          if (on.length > 0) expect(blocks[0]!.kind).toBe("cue-on");
          if (on.length > 1) for (const block of on) expect(block.durationS).toBeGreaterThanOrEqual(60);
          for (const [index, block] of blocks.entries()) {
            expect(Number.isInteger(block.durationS)).toBe(true);
            expect(block.kind === "cue-on").toBe(block.stepRateSpm !== undefined);
            if (index > 0) expect(block.kind).not.toBe(blocks[index - 1]!.kind);
          }
        },
      ),
      { seed: 51, numRuns: 500 },
    );
  });

  it("twenty minutes with half the beat are three turns", () => {
    const blocks = mainBlocks({ ...values, cueShare: 0.5 });
    expect(blocks.map((block) => [block.kind, block.durationS])).toEqual([
      ["cue-on", 200],
      ["cue-off", 200],
      ["cue-on", 200],
      ["cue-off", 200],
      ["cue-on", 200],
      ["cue-off", 200],
    ]);
  });

  it("repeats by distance, each with the speed that makes a beat track possible", () => {
    const session = makeSession(values, starterTemplates.trackRepeats);
    const repeats = session.blocks.filter((block) => block.distanceM !== undefined);
    expect(repeats.map((block) => block.distanceM)).toEqual([
      400, 200, 400, 200, 400, 200, 400, 200, 400, 200, 400, 200,
    ]);
    for (const block of repeats) expect(block.speedMps).toBe(2.8);
  });

  it("a rising beat goes from the stage before to the target", () => {
    const rise = {
      id: "r",
      title: "Rise",
      steps: [{ step: "block", kind: "cue-on", durationS: 120, beat: "rise" }],
    } as const;
    expect(makeSession(values, rise).blocks[0]).toMatchObject({ stepRateSpm: 164, endStepRateSpm: 166 });
    const { previousSpm: _previous, ...alone } = values;
    expect(makeSession(alone, rise).blocks[0]).not.toHaveProperty("endStepRateSpm");
  });

  it("refuses numbers that no session can have", () => {
    expect(() => makeSession({ ...values, targetSpm: 0 })).toThrow("targetSpm");
    expect(() => makeSession({ ...values, mainMinutes: 0 })).toThrow("mainMinutes");
    expect(() => makeSession({ ...values, cueShare: 1.2 })).toThrow("cueShare");
    expect(() => makeSession({ ...values, speedMps: -1 })).toThrow("speedMps");
  });
});
