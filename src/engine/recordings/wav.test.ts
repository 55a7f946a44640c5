import fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { type SoundRecording } from "./recording.ts";
import { readWav } from "./wav.ts";

interface OracleFile {
  readonly name: string;
  readonly base64: string;
  readonly sampleRateHz: number;
  readonly samples: readonly number[];
}
const oracle = JSON.parse(readFileSync("oracles/wav/values.json", "utf8")) as { readonly files: readonly OracleFile[] };

interface WavParts {
  readonly tag?: number;
  readonly channels?: number;
  readonly rateHz?: number;
  readonly bits?: number;
  readonly blockAlign?: number;
  readonly data?: Uint8Array;
  readonly claimedDataBytes?: number;
  readonly claimedRiffBytes?: number;
  readonly before?: Uint8Array;
  readonly extensible?: { readonly subformat: number; readonly validBits: number };
}

const ascii = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0));
const u16 = (value: number): number[] => [value & 255, (value >> 8) & 255];
const u32 = (value: number): number[] => [...u16(value & 0xffff), ...u16(value >>> 16)];

/** A WAV file by the 1991 layout, with any field falsified. */
function makeWav(parts: WavParts = {}): Uint8Array {
  const { tag = 1, channels = 1, rateHz = 8000, bits = 16 } = parts;
  const data = parts.data ?? Uint8Array.from([0, 0, 0, 64, 0, 192]);
  const align = parts.blockAlign ?? (channels * Math.ceil(bits / 8) * 8) / 8;
  const format = [...u16(parts.extensible ? 0xfffe : tag), ...u16(channels), ...u32(rateHz), ...u32(rateHz * align)];
  format.push(...u16(align), ...u16(bits));
  if (parts.extensible)
    format.push(
      ...u16(22),
      ...u16(parts.extensible.validBits),
      ...u32(4),
      ...u16(parts.extensible.subformat),
      0,
      0,
      0,
      0,
      0x10,
      0,
      0x80,
      0,
      0,
      0xaa,
      0,
      0x38,
      0x9b,
      0x71,
    );
  const body = [...ascii("WAVE"), ...ascii("fmt "), ...u32(format.length), ...format, ...(parts.before ?? [])];
  body.push(...ascii("data"), ...u32(parts.claimedDataBytes ?? data.length), ...data);
  return Uint8Array.from([...ascii("RIFF"), ...u32(parts.claimedRiffBytes ?? body.length), ...body]);
}

const read = (bytes: Uint8Array) => readWav(bytes, { fileName: "clip.wav" });

function sound(bytes: Uint8Array): SoundRecording {
  const result = read(bytes);
  if (!result.ok) expect.fail(JSON.stringify(result.problems));
  return result.value;
}

function codeOf(bytes: Uint8Array): string {
  const result = read(bytes);
  if (result.ok) return result.warnings.map((warning) => warning.code).join(",");
  expect(result.problems[0]?.where.file).toBe("clip.wav");
  expect(result.problems.every(({ got, expected, remedy }) => got !== "" && expected !== "" && remedy !== "")).toBe(
    true,
  );
  return result.problems.map((problem) => problem.code).join(",");
}

describe("readWav", () => {
  it.each(oracle.files)("outside tool: $name as written by scipy or Python's wave", (file) => {
    const recording = sound(new Uint8Array(Buffer.from(file.base64, "base64")));
    expect(recording.sampleRateHz).toBe(file.sampleRateHz);
    expectClose(recording.samples, file.samples, { atol: 1e-7, because: "samples are 32-bit floats" });
  });

  it("closed form: 16-bit half scale, and what an odd chunk before the data does", () => {
    const odd = Uint8Array.from([...ascii("LIST"), ...u32(3), 1, 2, 3, 0]);
    expectClose(sound(makeWav({ before: odd })).samples, [0, 0.5, -0.5], {
      atol: 1e-7,
      because: "samples are 32-bit floats",
    });
  });

  it("closed form: extensible format, 24 valid bits in a 32-bit container, and float by its sub-format", () => {
    const half = Uint8Array.from([0, 0, 0, 64, 0, 0, 0, 192]);
    const pcm = makeWav({ bits: 32, data: half, extensible: { subformat: 1, validBits: 24 } });
    expectClose(sound(pcm).samples, [0.5, -0.5], { rtol: 1e-6, because: "32-bit float" });
    const quarter = new Uint8Array(new Float32Array([0.25, -0.75]).buffer);
    const float = makeWav({ bits: 32, data: quarter, extensible: { subformat: 3, validBits: 32 } });
    expect([...sound(float).samples]).toEqual([0.25, -0.75]);
  });

  it("reads 20 bits in 24 (left-justified, as the layout says) and averages opposite channels to silence", () => {
    const data = Uint8Array.from([0, 0, 64, 0, 0, 192]);
    expectClose(sound(makeWav({ bits: 20, data })).samples, [0.5, -0.5], { rtol: 1e-6, because: "24-bit" });
    const opposite = makeWav({ channels: 2, data: Uint8Array.from([0, 64, 0, 192]) });
    expectClose(sound(opposite).samples, [0], { atol: 1e-7, because: "full scale is the same up and down" });
  });

  it("slow twin: long sounds are the same across decoding blocks", () => {
    const frames = 200_001;
    const values = Int16Array.from({ length: frames }, (_, index) => ((index * 7919) % 65_536) - 32_768);
    const bytes = new Uint8Array(44 + 2 * frames);
    bytes.set(makeWav({ data: new Uint8Array(0), claimedDataBytes: 2 * frames }));
    bytes.set(new Uint8Array(values.buffer), 44);
    const samples = sound(bytes).samples;
    const twin = Float64Array.from(values, (value) => value / 32_768);
    expectClose(samples, twin, { rtol: 1e-6, because: "32-bit float" });
  });

  it.each([
    ["wav-not-wav", new Uint8Array(0)],
    ["wav-not-wav", Uint8Array.from(ascii("RIFF"))],
    ["wav-not-wav", Uint8Array.from([...ascii("ID3"), ...new Uint8Array(60)])],
    ["wav-not-wav", Uint8Array.from([...ascii("RF64"), ...u32(100), ...ascii("WAVE")])],
    ["wav-no-format", Uint8Array.from([...ascii("RIFF"), ...u32(4), ...ascii("WAVE")])],
    [
      "wav-no-format",
      Uint8Array.from([...ascii("RIFF"), ...u32(14), ...ascii("WAVE"), ...ascii("data"), ...u32(2), 1, 2]),
    ],
    ["wav-no-data", makeWav().subarray(0, 36)],
    ["wav-format-broken", makeWav().subarray(0, 30)],
    ["wav-truncated", makeWav().subarray(0, 48)],
    ["wav-truncated", makeWav({ claimedDataBytes: 500_000_000, claimedRiffBytes: 500_000_036 })],
    ["wav-empty", makeWav({ data: new Uint8Array(0) })],
    ["wav-empty", makeWav({ data: Uint8Array.from([1]) })],
    ["wav-codec", makeWav({ tag: 0x55 })],
    ["wav-codec", makeWav({ tag: 6, bits: 8 })],
    ["wav-codec", makeWav({ extensible: { subformat: 2, validBits: 16 } })],
    ["wav-bit-depth", makeWav({ bits: 64 })],
    ["wav-bit-depth", makeWav({ tag: 3, bits: 16 })],
    ["wav-bit-depth", makeWav({ bits: 0 })],
    ["wav-channels", makeWav({ channels: 0 })],
    ["wav-channels", makeWav({ channels: 60_000 })],
    ["wav-sample-rate", makeWav({ rateHz: 0 })],
    ["wav-sample-rate", makeWav({ rateHz: 4_000_000_000 })],
    ["wav-block-align", makeWav({ blockAlign: 0 })],
    ["wav-channels,wav-sample-rate", makeWav({ channels: 99, rateHz: 3 })],
    ["wav-not-finite", makeWav({ tag: 3, bits: 32, data: new Uint8Array(new Float32Array([0, Number.NaN]).buffer) })],
    [
      "wav-too-many-chunks",
      makeWav({ before: Uint8Array.from(Array.from({ length: 1001 }, () => [...ascii("junk"), ...u32(0)]).flat()) }),
    ],
    // Warnings: the sound is all there.
    ["wav-length-unknown", makeWav({ claimedDataBytes: 0xffffffff, claimedRiffBytes: 0xffffffff })],
    ["wav-end-missing", makeWav({ claimedRiffBytes: 500_000_000 })],
    ["wav-scaled", makeWav({ tag: 3, bits: 32, data: new Uint8Array(new Float32Array([3, -6]).buffer) })],
  ])("says %s", (code, bytes) => {
    expect(codeOf(bytes)).toBe(code);
  });

  it("scales what goes beyond full scale as a whole", () => {
    const loud = makeWav({ tag: 3, bits: 32, data: new Uint8Array(new Float32Array([3, -6]).buffer) });
    expect([...sound(loud).samples]).toEqual([0.5, -1]);
  });

  it("refuses more than the longest duration, to the sample", () => {
    const twoSeconds = makeWav({ data: new Uint8Array(2 * 16_000) });
    expect(readWav(twoSeconds, { fileName: "a.wav", maxDurationS: 2 }).ok).toBe(true);
    const over = readWav(makeWav({ data: new Uint8Array(2 * 16_001) }), { fileName: "a.wav", maxDurationS: 2 });
    expect(over.ok ? [] : over.problems.map((problem) => problem.code)).toEqual(["wav-too-long"]);
  });

  it("property: mutated files never throw, and a sound that is read holds no more than the file", () => {
    const sources = oracle.files.map((file) => new Uint8Array(Buffer.from(file.base64, "base64")));
    const edit = fc.record({ at: fc.nat(120), value: fc.nat(255) });
    let readable = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...sources),
        fc.array(edit, { maxLength: 6 }),
        fc.option(fc.nat(400)),
        (source, edits, cut) => {
          const bytes = source.slice(0, cut ?? source.length);
          for (const { at, value } of edits) if (at < bytes.length) bytes[at] = value;
          const result = read(bytes);
          if (!result.ok) return result.problems.length > 0;
          readable += 1;
          return (
            result.value.samples.length <= bytes.length && result.value.samples.every((value) => Math.abs(value) <= 1)
          );
        },
      ),
      { seed: 20261125, numRuns: 4000 },
    );
    // Guards the property itself: if nothing could be read it would hold for the wrong reason.
    expect(readable).toBeGreaterThan(400);
  });
});
