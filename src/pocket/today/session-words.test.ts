import { describe, expect, it } from "vitest";
import type { Session } from "../../engine/session/session.ts";
import { beatRateOf, phoneRows, sessionLengthS } from "./session-words.ts";

const session: Session = {
  id: "s",
  title: "s",
  blocks: [
    { kind: "warm-up", durationS: 600 },
    { kind: "cue-on", durationS: 160, stepRateSpm: 165 },
    { kind: "cue-off", durationS: 231, stepRateSpm: 165 },
    { kind: "cue-on", durationS: 160, stepRateSpm: 165 },
    { kind: "cue-off", durationS: 232 },
    { kind: "cue-off", durationS: 180 },
    { kind: "strides", distanceM: 400, speedMps: 4 },
  ],
};

describe("a session on a phone", () => {
  it("tells alternating blocks once, although their lengths differ by a second", () => {
    const rows = phoneRows(session).map((group) =>
      group.map(({ what, length, times }) => [times, what, length].join(" ")),
    );
    expect(rows).toEqual([
      ["1 Warm up, easy 10 min"],
      ["2 Beat on 2¾ min", "2 Beat off, keep the steps 3¾ min"],
      ["1 Beat off, keep the steps 3 min"],
      ["1 Strides 100 s"],
    ]);
  });

  it("marks as sounding what sounds: a cue-off block is silent although it carries a rate", () => {
    expect(phoneRows(session).flatMap((group) => group.map(({ sounds }) => sounds))).toEqual([
      false,
      true,
      false,
      false,
      false,
    ]);
  });

  it("closed form: 600 + 160 + 231 + 160 + 232 + 180 s and 400 m at 4 m/s are 1663 s; the beat is 165", () => {
    expect(sessionLengthS(session)).toBe(1663);
    expect(beatRateOf(session)).toBe(165);
    expect(beatRateOf({ ...session, blocks: [{ kind: "cue-off", durationS: 9, stepRateSpm: 150 }] })).toBeUndefined();
  });
});
