import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { runCli } from "../../../tests/run-cli.ts";

interface BeatJson {
  beatCount: number;
  durationS: number;
  events: { kind: string; timeS: number; sampleIndex: number }[];
}

const session = {
  title: "Two blocks",
  blocks: [
    { kind: "cue-on", durationS: 60, stepRateSpm: 165 },
    { kind: "cue-off", durationS: 30 },
  ],
};

describe("spondee beat", () => {
  test("closed form: beat n of a steady track lies at 60·n/rate", async () => {
    const run = await runCli(["beat", "--spm", "173.3", "--minutes", "2", "--events", "--json"]);
    const { events } = run.json<BeatJson>();
    const expected = events.map((_, n) => (60 * n) / 173.3);
    expectClose(
      events.map(({ timeS }) => timeS),
      expected,
      { atol: 1e-9, because: "exact times, a billionth of a second" },
    );
    expect(events).toHaveLength(Math.ceil((2 * 60 * 173.3) / 60));
  });

  test("the WAV's header says what the file holds, and its loudest sample does not clip", async () => {
    const run = await runCli(["beat", "--spm", "170", "--minutes", "0.5", "--out", "t.wav"]);
    const bytes = run.written.get("t.wav")!;
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    expect(new TextDecoder("latin1").decode(bytes.subarray(0, 4))).toBe("RIFF");
    expect(view.getUint32(4, true)).toBe(bytes.length - 8);
    expect(view.getUint16(22, true)).toBe(1);
    expect(view.getUint32(24, true)).toBe(44_100);
    const dataAt = Buffer.from(bytes).indexOf("data") + 8;
    expect(bytes.length - dataAt).toBe(30 * 44_100 * 2);
    let peak = 0;
    for (let at = dataAt; at < bytes.length; at += 2) peak = Math.max(peak, Math.abs(view.getInt16(at, true)));
    expect(peak).toBeGreaterThan(3000);
    expect(peak).toBeLessThan(32_767);
  });

  test("a session file plays its beat only in its cue-on block", async () => {
    const run = await runCli(["beat", "--session", "s.json", "--events", "--json"], {
      "s.json": JSON.stringify(session),
    });
    const { events, durationS } = run.json<BeatJson>();
    expect(durationS).toBe(90);
    expect(events).toHaveLength(165);
    expect(Math.max(...events.map(({ timeS }) => timeS))).toBeLessThan(60);
  });

  test.each([
    ["broken JSON", "{", /s\.json/],
    ["an unknown block", JSON.stringify({ title: "x", blocks: [{ kind: "fly", durationS: 3 }] }), /blocks\[0\]\.kind/],
    ["a text for a number", JSON.stringify({ title: "x", blocks: [{ kind: "cue-on", durationS: "3" }] }), /durationS/],
    ["a block without a length", JSON.stringify({ title: "x", blocks: [{ kind: "cue-off" }] }), /blocks\[0\]/],
    ["no blocks", JSON.stringify({ title: "x", blocks: [] }), /blocks/],
  ])("%s ends with 3 and writes nothing", async (_, content, message) => {
    const run = await runCli(["beat", "--session", "s.json", "--out", "t.wav"], { "s.json": content });
    expect(run.exitCode).toBe(3);
    expect(run.stderr).toMatch(message);
    expect(run.written.size).toBe(0);
  });

  test.each([
    [["--spm", "170", "--minutes", "1"]],
    [["--spm", "170", "--out", "t.wav"]],
    [["--spm", "170", "--minutes", "1", "--session", "s.json", "--out", "t.wav"]],
    [["--spm", "170", "--minutes", "1", "--out", "t.wav", "--click", "gong"]],
  ])("wrong usage ends with 2: %j", async (words) => {
    expect(await runCli(["beat", ...words])).toMatchObject({ exitCode: 2, stdout: "" });
  });

  test.each(["900", "0", "-5"])("a rate of %s is unsuitable: exit 3", async (spm) => {
    const run = await runCli(["beat", "--spm", spm, "--minutes", "1", "--out", "t.wav"]);
    expect(run.exitCode).toBe(3);
    expect(run.written.size).toBe(0);
  });
});
