import { describe, expect, it } from "vitest";
import { createBeatSchedule } from "../../engine/beat/create-schedule.ts";
import { nudgeBeat } from "../../engine/beat/nudge.ts";
import { cueAt, momentAt } from "./session-clock.ts";

const made = createBeatSchedule({
  id: "s",
  title: "s",
  blocks: [
    { kind: "warm-up", durationS: 60 },
    { kind: "cue-on", durationS: 100, stepRateSpm: 170, cueShare: 0.5 },
    { kind: "cue-off", durationS: 40, stepRateSpm: 170 },
    { kind: "cool-down", durationS: 30 },
  ],
});
if (!made.ok) throw new Error("no schedule");
const schedule = made.value;

describe("where in the session", () => {
  it("closed form: blocks are half-open and count down to their end", () => {
    expect(momentAt(schedule, 0)).toMatchObject({ kind: "warm-up", leftS: 60, next: "cue-on", beatSpm: undefined });
    expect(momentAt(schedule, 60)).toMatchObject({ kind: "cue-on", leftS: 100, next: "cue-off", beatSpm: 170 });
    expect(momentAt(schedule, 110)).toMatchObject({ kind: "cue-on", leftS: 50, beatSpm: undefined });
    expect(momentAt(schedule, 229.5)).toMatchObject({ kind: "cool-down", leftS: 0.5, next: undefined });
    expect(momentAt(schedule, 230)).toMatchObject({ kind: "over", leftS: 0 });
  });

  it("closed form: stretches of beat on and off meet, and begin where the sound does", () => {
    expect(cueAt(schedule, 30)).toEqual({ cue: "off", startS: 0 });
    expect(cueAt(schedule, 60)).toEqual({ cue: "on", startS: 60, targetSpm: 170 });
    expect(cueAt(schedule, 109.9)).toEqual({ cue: "on", startS: 60, targetSpm: 170 });
    // Half of the block sounds; the silence runs on through the cue-off block and the cool-down.
    expect(cueAt(schedule, 110)).toEqual({ cue: "off", startS: 110 });
    expect(cueAt(schedule, 229)).toEqual({ cue: "off", startS: 110 });
    expect(cueAt(schedule, 230)).toBeUndefined();
  });

  it("a nudge begins a stretch of its own with its own rate", () => {
    const nudged = nudgeBeat(schedule, { atS: 80, deltaSpm: 1, capSpm: 175 });
    expect(cueAt(nudged, 79)).toEqual({ cue: "on", startS: 60, targetSpm: 170 });
    expect(cueAt(nudged, 81)).toEqual({ cue: "on", startS: 80, targetSpm: 171 });
  });
});
