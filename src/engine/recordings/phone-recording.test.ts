// The phone's own format: what is written comes back, and what is broken is told with its line.
import { describe, expect, test } from "vitest";
import { type Result } from "../quantities/problem.ts";
import { readPhoneRecording } from "./phone-recording.ts";
import {
  phoneCueLine,
  phoneEndLine,
  phoneHeaderLine,
  phoneMarkLine,
  phoneMotionLine,
  phonePositionLine,
} from "./phone-recording-lines.ts";
import { type MotionRecording } from "./recording.ts";

const read = (text: string): Result<MotionRecording> => readPhoneRecording(text, { fileName: "run.jsonl" });
const header = phoneHeaderLine({ startedAtMs: 1_780_000_000_000, surface: "outdoor", gravity: "included" });
const motion = (fromMs: number): string =>
  phoneMotionLine({
    timeMs: [fromMs, fromMs + 16.6667, fromMs + 33.3333],
    xMps2: [0.12345, -1, Number.NaN],
    yMps2: [0, 0, 0],
    zMps2: [9.8, 9.81, 9.82],
  });

describe("a whole recording", () => {
  const text =
    header +
    motion(250) +
    phonePositionLine({ timeMs: 1250, latitudeDeg: 10.5, longitudeDeg: -20.25, elevationM: null, accuracyM: 4.5 }) +
    phoneMarkLine(2250, "shoe") +
    phoneCueLine({ startS: 0.25, endS: 30.25, cue: "on", targetSpm: 170 }) +
    motion(283.4) +
    phoneEndLine(40_000);
  test("comes back, with times from the first sample", () => {
    const result = read(text);
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    const { value } = result;
    expect(result.warnings).toEqual([]);
    expect(value.startedAtMs).toBe(1_780_000_000_250);
    expect(Array.from(value.timeS, (t) => Math.round(t * 1e4) / 1e4)).toEqual([
      0, 0.0167, 0.0333, 0.0334, 0.0501, 0.0667,
    ]);
    expect(Array.from(value.accelXMps2)).toEqual([0.123, -1, NaN, 0.123, -1, NaN]);
    expect(value.gravity).toBe("included");
    expect(value.surface).toBe("outdoor");
    expect(value.positions?.timeS[0]).toBe(1);
    expect(value.positions?.elevationM[0]).toBeNaN();
    expect(value.positions?.longitudeDeg[0]).toBe(-20.25);
    expect(value.cueBlocks).toEqual([{ startS: 0, endS: 30, cue: "on", targetSpm: 170 }]);
    expect(value.marks).toEqual([{ timeS: 2, label: "shoe" }]);
  });
  test("property: cut off at any character it is still read, or says why", () => {
    const whole = read(text);
    for (let length = 0; length < text.length - 1; length += 1) {
      const result = read(text.slice(0, length));
      if (result.ok) {
        expect(result.warnings.map((warning) => warning.code)).toContain("phone-no-end");
        expect(whole.ok && whole.value.timeS.slice(0, result.value.timeS.length)).toEqual(result.value.timeS);
      } else expect(result.problems[0]!.code).toMatch(/^(phone-not-ours|motion-no-rows)$/);
    }
  });
  test("only so many samples of a batch", () => {
    const line = phoneMotionLine({ timeMs: [1, 2, 3], xMps2: [1, 2, 3], yMps2: [1, 2, 3], zMps2: [1, 2, 3], count: 2 });
    expect(JSON.parse(line)).toEqual({ kind: "motion", timeMs: [1, 2], x: [1, 2], y: [1, 2], z: [1, 2] });
  });
});

describe("what is refused", () => {
  test.each([
    ["", "phone-not-ours", 1],
    ['{"other":1}\n', "phone-not-ours", 1],
    [header.replace('"version":1', '"version":2') + motion(0), "phone-version", 1],
    [header.replace("included", "perhaps") + motion(0), "phone-header", 1],
    [`${header}{broken\n${motion(0)}`, "phone-line", 2],
    [`${header + motion(0)}{"kind":"motion","timeMs":[1],"x":[1],"y":[1],"z":[]}\n${motion(9)}`, "phone-line", 3],
    [`${header + motion(0)}{"kind":"motion","timeMs":["1"],"x":[1],"y":[1],"z":[1]}\n`, "phone-line", 3],
    [`${header + motion(0)}{"kind":"position","timeMs":1,"latitudeDeg":91,"longitudeDeg":0}\n`, "phone-line", 3],
    [`${header + motion(0)}{"kind":"cue","startMs":5,"endMs":1,"cue":"on"}\n`, "phone-line", 3],
    [`${header + motion(0)}{"kind":"mark","timeMs":5}\n`, "phone-line", 3],
    [header, "motion-no-rows", undefined],
  ])("%#: %j", (text, code, line) => {
    const result = read(text);
    if (result.ok) throw new Error("read");
    expect(result.problems[0]).toMatchObject({ code });
    expect(result.problems[0]!.where.line).toBe(line);
  });
  test("more samples than allowed", () => {
    const result = readPhoneRecording(header + motion(0) + motion(100), { fileName: "r", limits: { maxPoints: 5 } });
    expect(result.ok ? [] : result.problems.map((problem) => problem.code)).toEqual(["too-many-points"]);
  });
});

test("a line of a later kind is passed over and counted", () => {
  const result = read(`${header + motion(0)}{"kind":"weather"}\n${phoneEndLine(1)}`);
  expect(result.ok && result.warnings.map((warning) => warning.code)).toEqual(["phone-unknown-lines"]);
});
