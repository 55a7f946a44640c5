import { describe, expect, it } from "vitest";
import fc from "fast-check";
import { readPhoneRecording } from "../../engine/recordings/phone-recording.ts";
import { phoneHeaderLine } from "../../engine/recordings/phone-recording-lines.ts";
import type { NewPiece } from "../data/runs.ts";
import { createRecorder } from "./recorder.ts";

const HEADER = phoneHeaderLine({ startedAtMs: 1_700_000_000_000, surface: "outdoor", gravity: "included" });

function scene(fails: (call: number) => boolean = () => false) {
  const pieces: NewPiece[] = [];
  let nowMs = 5000;
  let call = 0;
  const recorder = createRecorder({
    write: (piece) => {
      call += 1;
      if (fails(call)) return Promise.reject(new DOMException("no room", "QuotaExceededError"));
      pieces.push(piece);
      return Promise.resolve();
    },
    zeroMs: 5000,
    nowMs: () => nowMs,
  });
  const step = (): void => {
    nowMs += 20;
    recorder.motion({ timeMs: nowMs, xMps2: 1, yMps2: 9.81, zMps2: (nowMs % 7) / 10 });
  };
  return { recorder, pieces, step, clock: { set: (ms: number) => (nowMs = ms), now: () => nowMs } };
}

const fileOf = (pieces: readonly NewPiece[]) => {
  const read = readPhoneRecording(HEADER + pieces.map((piece) => piece.text).join(""), { fileName: "run" });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read;
};

describe("recorder", () => {
  it("what is written reads back whole, with positions and stretches of beat in place", async () => {
    const { recorder, pieces, step, clock } = scene();
    recorder.cue({ cue: "on", targetSpm: 170 }, 5000);
    for (let k = 0; k < 100; k += 1) step();
    await recorder.write();
    recorder.position({ timeMs: clock.now(), latitudeDeg: 45, longitudeDeg: 7, elevationM: null, accuracyM: 4 });
    recorder.cue({ cue: "off" }, clock.now());
    for (let k = 0; k < 50; k += 1) step();
    await recorder.end();
    const { value, warnings } = fileOf(pieces);
    expect(warnings).toEqual([]);
    expect(value.timeS).toHaveLength(150);
    expect(value.positions?.latitudeDeg).toEqual(Float64Array.of(45));
    // The first sample is at 20 ms, and the reader counts from it.
    expect(value.cueBlocks.map(({ startS, endS, cue }) => [startS.toFixed(2), endS.toFixed(2), cue])).toEqual([
      ["-0.02", "1.98", "on"],
      ["1.98", "2.98", "off"],
    ]);
  });

  it("every piece carries the stretch that is open, so that a cut run can close it", async () => {
    const { recorder, pieces, step } = scene();
    recorder.cue({ cue: "on", targetSpm: 170 }, 5000);
    step();
    await recorder.write();
    expect(pieces[0]).toMatchObject({ openCue: { startMs: 0, cue: "on", targetSpm: 170 }, lastTimeMs: 20 });
    await recorder.end();
    expect(pieces[1]).toMatchObject({ end: true, openCue: undefined });
  });

  it("a pause belongs to no stretch, however far back the beat's own clock says that its block began", async () => {
    const { recorder, pieces, step, clock } = scene();
    step();
    recorder.cue({ cue: "on", targetSpm: 170 }, 5000);
    clock.set(15_000);
    recorder.cue(undefined, 15_000);
    clock.set(40_000);
    recorder.cue(undefined, 40_000);
    recorder.cue({ cue: "on", targetSpm: 170 }, 30_000);
    clock.set(50_000);
    step();
    await recorder.end();
    const spans = fileOf(pieces).value.cueBlocks.map(({ startS, endS }) => [startS.toFixed(0), endS.toFixed(0)]);
    expect(spans).toEqual([
      ["-0", "10"],
      ["35", "45"],
    ]);
  });

  it("property: whichever writes fail for want of room, nothing is lost, doubled or out of order", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }), async (luck) => {
        const { recorder, pieces, step } = scene((call) => luck[call - 1] === true);
        for (let round = 0; round < 12; round += 1) {
          step();
          step();
          await recorder.write().catch(() => undefined);
        }
        // Thirteenth call and later succeed; ending is asked for until it does.
        await recorder.end().catch(() => recorder.end());
        const { value, warnings } = fileOf(pieces);
        expect(warnings).toEqual([]);
        expect(Array.from(value.timeS, (timeS) => Math.round(timeS * 1000))).toEqual(
          Array.from({ length: 24 }, (_, k) => 20 * k),
        );
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it("an end that finds no room can be asked for again, and writes one end line", async () => {
    const { recorder, pieces, step } = scene((call) => call <= 2);
    step();
    step();
    recorder.cue({ cue: "on" }, 5000);
    await expect(recorder.end()).rejects.toThrow();
    await expect(recorder.end()).rejects.toThrow();
    await recorder.end();
    const text = pieces.map((piece) => piece.text).join("");
    expect(text.match(/"kind":"end"/g)).toHaveLength(1);
    expect(text.match(/"kind":"cue"/g)).toHaveLength(1);
    expect(fileOf(pieces).value.timeS).toHaveLength(2);
  });
});
