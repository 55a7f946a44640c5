import { WaveFile } from "wavefile";
import { describe, expect, it } from "vitest";
import { scheduleOf } from "../../../tests/beat-sessions.ts";
import { firstDifference, joinChunks } from "../../../tests/sound-measure.ts";
import { renderBeat } from "./render.ts";
import { initialsOf } from "./track-tags.ts";
import { wavTrack } from "./wav.ts";

function bytesOf(title: string, initials: string): { readonly bytes: Uint8Array; readonly byteCount: number } {
  const result = wavTrack(scheduleOf({ stepRateSpm: 171, durationS: 9 }), { clickId: "wood" }, { title, initials });
  if (!result.ok) throw new Error("unexpected");
  return {
    bytes: Uint8Array.from(Buffer.concat([...result.value.chunks()])),
    byteCount: result.value.byteCount,
  };
}

/** Chunks with their content; fails unless the sizes and pad bytes use up every byte. */
function riffChunks(bytes: Uint8Array): { readonly id: string; readonly content: Uint8Array }[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const chunks: { id: string; content: Uint8Array }[] = [];
  let offset = 0;
  while (offset < bytes.length) {
    const size = view.getUint32(offset + 4, true);
    const id = String.fromCharCode(...bytes.subarray(offset, offset + 4));
    chunks.push({ id, content: bytes.subarray(offset + 8, offset + 8 + size) });
    offset += 8 + size + (size % 2);
  }
  expect(offset).toBe(bytes.length);
  return chunks;
}

describe("WAV tracks", () => {
  it("outside tool: a WAV reader from the registry finds the format, every sample, the title and the initials", () => {
    const { bytes, byteCount } = bytesOf("Wednesday, stage 2", "MK");
    expect(bytes.length).toBe(byteCount);
    const read = new WaveFile(bytes);
    expect(read.fmt).toMatchObject({
      audioFormat: 1,
      numChannels: 1,
      sampleRate: 44_100,
      bitsPerSample: 16,
      blockAlign: 2,
      byteRate: 88_200,
    });
    const expected = joinChunks(renderBeat(scheduleOf({ stepRateSpm: 171, durationS: 9 }), { clickId: "wood" }));
    expect(firstDifference(read.getSamples(false, Int16Array) as unknown as Int16Array, expected)).toBe(-1);
    expect(read.getTag("INAM")).toBe("Wednesday, stage 2");
    expect(read.getTag("IART")).toBe("MK");
  });

  it("published: chunk sizes add up and stay even (Multimedia Programming Interface and Data Specifications 1.0, RIFF)", () => {
    for (const title of ["Odd", "Even", "Zürich läuft", ""]) {
      const { bytes } = bytesOf(title, "");
      expect(new DataView(bytes.buffer).getUint32(4, true)).toBe(bytes.length - 8);
      const chunks = riffChunks(bytes.subarray(12));
      expect(chunks.map(({ id }) => id)).toEqual(title === "" ? ["fmt ", "data"] : ["fmt ", "LIST", "data"]);
      if (title === "") continue;
      const [info] = riffChunks(chunks[1]!.content.subarray(4));
      expect(info!.id).toBe("INAM");
      expect(new TextDecoder().decode(info!.content)).toBe(`${title}\0`);
    }
  });

  it("a track past the format's 4 GiB is a problem with a remedy, not a broken file", () => {
    const result = wavTrack(scheduleOf({ stepRateSpm: 170, durationS: 86_400 }), { clickId: "wood" }, { title: "" });
    expect(result.ok ? "" : result.problems[0]!.code).toBe("track-too-long-for-wav");
    const half = wavTrack(scheduleOf({ stepRateSpm: 170, durationS: 43_200 }), { clickId: "wood" }, { title: "" });
    expect(half.ok).toBe(true);
  });

  it("a track carries initials, never a whole name", () => {
    expect(() => bytesOf("Session", "Mara Kline")).toThrow(RangeError);
    expect(() => bytesOf("Session", "Marak")).toThrow(RangeError);
    expect(["Mara Kline", "  Ödön  de la Cruz-Weiß ", "李 小", "", "42"].map(initialsOf)).toEqual([
      "MK",
      "ÖDLC",
      "李小",
      "",
      "",
    ]);
  });
});
