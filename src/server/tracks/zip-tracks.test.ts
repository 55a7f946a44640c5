import { crc32 } from "node:zlib";
import { describe, expect, it } from "vitest";
import { scheduleOf } from "../../../tests/beat-sessions.ts";
import { collect } from "../../../tests/collect.ts";
import { type TrackFile, createTrack } from "./track.ts";
import { type ZipProgress, distinctNames, zipTracks } from "./zip-tracks.ts";

const MADE_AT = new Date("2026-03-04T18:30:00Z");

function trackOf(initials: string, stepRateSpm: number): TrackFile {
  const track = createTrack({
    schedule: scheduleOf({ stepRateSpm, durationS: 9 }),
    sound: { clickId: "tick" },
    tags: { title: "Stage 1", initials },
    format: "flac",
  });
  if (!track.ok) throw new Error("unexpected");
  return track.value;
}

interface Entry {
  readonly name: string;
  readonly content: Buffer;
}

/** Stored entries by way of the central directory, as APPNOTE 6.3 (ZIP file format specification) lays it out. */
function readZip(zip: Buffer): Entry[] {
  const end = zip.lastIndexOf("PK\u0005\u0006", undefined, "latin1");
  const entries: Entry[] = [];
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    expect(zip.toString("latin1", at, at + 4)).toBe("PK\u0001\u0002");
    const [nameBytes, extraBytes, noteBytes] = [28, 30, 32].map((field) => zip.readUInt16LE(at + field));
    const size = zip.readUInt32LE(at + 24);
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const content = zip.subarray(start, start + size);
    expect(zip.readUInt16LE(at + 10)).toBe(0);
    expect(crc32(content)).toBe(zip.readUInt32LE(at + 16));
    entries.push({ name: zip.toString("utf8", at + 46, at + 46 + nameBytes!), content });
    at += 46 + nameBytes! + extraBytes! + noteBytes!;
  }
  return entries;
}

describe("a zip of a group's tracks", () => {
  it("holds every track whole under a name of its own, and tells its progress", async () => {
    const tracks = [trackOf("MK", 170), trackOf("mk", 172), trackOf("ÖD", 174)];
    const progress: ZipProgress[] = [];
    const zip = await collect(zipTracks(tracks, { madeAt: MADE_AT, onProgress: (step) => progress.push(step) }));
    const entries = readZip(zip);
    expect(entries.map(({ name }) => name)).toEqual(["Stage 1 MK.flac", "Stage 1 mk 2.flac", "Stage 1 ÖD.flac"]);
    for (const [index, { content }] of entries.entries())
      expect(content.equals(await collect(tracks[index]!.chunks()))).toBe(true);
    expect(progress.map(({ tracksDone, fileName }) => [tracksDone, fileName])).toEqual([
      [0, "Stage 1 MK.flac"],
      [1, "Stage 1 mk 2.flac"],
      [2, "Stage 1 ÖD.flac"],
      [3, undefined],
    ]);
  });

  it("encodes a track only when the archive comes to it, and stops when the reader does", async () => {
    const begun: string[] = [];
    let ended = 0;
    const lazy = (fileName: string): TrackFile => ({
      fileName,
      mediaType: "audio/flac",
      async *chunks() {
        begun.push(fileName);
        try {
          for (let index = 0; index < 1000; index += 1) yield await Promise.resolve(new Uint8Array(100_000));
        } finally {
          ended += 1;
        }
      },
    });
    let bytes = 0;
    for await (const chunk of zipTracks([lazy("a"), lazy("b")], { madeAt: MADE_AT })) {
      bytes += chunk.length;
      if (bytes > 500_000) break;
    }
    expect(begun).toEqual(["a"]);
    expect(ended).toBe(1);
  });

  it("an encoder that fails breaks the archive off with its error instead of ending it", async () => {
    const broken: TrackFile = {
      fileName: "x.flac",
      mediaType: "audio/flac",
      async *chunks() {
        yield await Promise.resolve(new Uint8Array(10));
        throw new Error("encoder failed");
      },
    };
    await expect(collect(zipTracks([broken], { madeAt: MADE_AT }))).rejects.toThrow("encoder failed");
  });

  it("names that meet are numbered, also when the numbered one is taken", () => {
    expect(distinctNames(["a.wav", "A.wav", "a 2.wav", "a.wav"])).toEqual(["a.wav", "A 2.wav", "a 2 2.wav", "a 3.wav"]);
  });
});
