import { describe, expect, it } from "vitest";
import { session } from "../../../tests/beat-sessions.ts";
import { type SessionBlock } from "../session/session.ts";
import { createBeatSchedule } from "./create-schedule.ts";

describe("what a beat cannot be made of", () => {
  const good = { kind: "cue-on", durationS: 60, stepRateSpm: 170 } as const;

  it.each<[string, string, SessionBlock]>([
    ["block-length", "blocks[1]", { kind: "cool-down" }],
    ["block-length", "blocks[1]", { kind: "cool-down", durationS: 60, distanceM: 100, speedMps: 3 }],
    ["distance-without-speed", "blocks[1].speedMps", { kind: "cue-on", distanceM: 1000, stepRateSpm: 170 }],
    ["not-positive", "blocks[1].durationS", { ...good, durationS: 0 }],
    ["not-positive", "blocks[1].durationS", { ...good, durationS: Number.NaN }],
    ["not-positive", "blocks[1].durationS", { ...good, durationS: Infinity }],
    ["not-positive", "blocks[1].speedMps", { kind: "cue-on", distanceM: 1000, speedMps: -3, stepRateSpm: 170 }],
    ["beat-rate", "blocks[1].stepRateSpm", { ...good, stepRateSpm: 17 }],
    ["beat-rate", "blocks[1].stepRateSpm", { ...good, stepRateSpm: 1700 }],
    ["beat-rate", "blocks[1].endStepRateSpm", { ...good, endStepRateSpm: Number.NaN }],
    ["no-beat", "blocks[1].stepRateSpm", { kind: "cue-on", durationS: 60 }],
    ["cue-share", "blocks[1].cueShare", { ...good, cueShare: 1.2 }],
  ])("tells %s at %s", (code, field, block) => {
    const result = createBeatSchedule(session(good, block));
    expect(result.ok ? [] : result.problems.map((problem) => [problem.code, problem.where.field])).toEqual([
      [code, field],
    ]);
  });

  it("tells an empty session, and one longer than a day", () => {
    const codes = [session(), session({ ...good, durationS: 86_400 }, good)].map((source) => {
      const result = createBeatSchedule(source);
      return result.ok ? "ok" : result.problems[0]!.code;
    });
    expect(codes).toEqual(["block-count", "session-too-long"]);
  });

  it("throws on wrong options, which are the caller's own", () => {
    for (const options of [{ sampleRateHz: 44_100.5 }, { accentEvery: -1 }, { countInBeats: 17 }, { cueCycleS: 1 }])
      expect(() => createBeatSchedule(session(good), options)).toThrow(RangeError);
  });
});
