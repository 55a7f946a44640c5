import { FLACDecoder } from "@wasm-audio-decoders/flac";
import { OggVorbisDecoder } from "@wasm-audio-decoders/ogg-vorbis";
import { describe, expect, it } from "vitest";
import { scheduleOf, session } from "../../../tests/beat-sessions.ts";
import { collect } from "../../../tests/collect.ts";
import { firstDifference, joinChunks, locate } from "../../../tests/sound-measure.ts";
import { clickSamples } from "../../engine/beat/clicks.ts";
import { renderBeat } from "../../engine/beat/render.ts";
import { type BeatSchedule } from "../../engine/beat/schedule.ts";
import { type TrackFormat, createTrack, trackFileName } from "./track.ts";

const SOUND = { clickId: "wood" } as const;
/** The decoder maps 16 bits to floats by this factor. */
const DECODER_SCALE = 32_767;
const TAGS = { title: "Zürich, stage 2", initials: "MK" };

async function bytesOf(schedule: BeatSchedule, format: TrackFormat): Promise<Buffer> {
  const track = createTrack({ schedule, sound: SOUND, tags: TAGS, format });
  if (!track.ok) throw new Error("unexpected");
  return collect(track.value.chunks());
}

async function decode(bytes: Buffer, format: "flac" | "ogg"): Promise<{ samples: Float32Array; sampleRate: number }> {
  const decoder = format === "flac" ? new FLACDecoder() : new OggVorbisDecoder();
  await decoder.ready;
  const { channelData, sampleRate, errors } = await decoder.decodeFile(bytes);
  decoder.free();
  expect(errors).toEqual([]);
  expect(channelData.length).toBe(1);
  return { samples: channelData[0]!, sampleRate };
}

/** Exact beats of a ramp from its phase, apart from the engine; rates in spm. */
function exactTimesS(startSpm: number, endSpm: number, lengthS: number): number[] {
  const [f0, slope] = [startSpm / 60, (endSpm - startSpm) / 60 / lengthS];
  const count = Math.ceil(((startSpm + endSpm) / 120) * lengthS - 1e-9);
  return Array.from({ length: count }, (_, beat) =>
    slope === 0 ? beat / f0 : (Math.sqrt(f0 * f0 + 2 * slope * beat) - f0) / slope,
  );
}

/** Bit by bit, as the polynomial is written. */
function slowOggChecksum(page: Buffer): number {
  let checksum = 0n;
  for (const byte of page)
    for (let bit = 7; bit >= 0; bit -= 1) {
      const carry = ((checksum >> 31n) & 1n) ^ BigInt((byte >> bit) & 1);
      checksum = ((checksum << 1n) & 0xffff_ffffn) ^ (carry * 0x04c1_1db7n);
    }
  return Number(checksum);
}

describe("compressed tracks, heard by another decoder", () => {
  it.each([22_050, 44_100, 48_000])(
    "outside tool: FLAC at %s Hz comes back sample for sample",
    async (sampleRateHz) => {
      const schedule = scheduleOf(
        session(
          { kind: "cue-on", durationS: 40, stepRateSpm: 173.3, endStepRateSpm: 180 },
          { kind: "cue-off", durationS: 11.7 },
        ),
        { sampleRateHz, announce: true, countInBeats: 4, accentEvery: 4 },
      );
      const { samples, sampleRate } = await decode(await bytesOf(schedule, "flac"), "flac");
      expect(sampleRate).toBe(sampleRateHz);
      const expected = joinChunks(renderBeat(schedule, SOUND));
      expect(
        firstDifference(
          Array.from(samples, (value) => Math.round(value * DECODER_SCALE)),
          expected,
        ),
      ).toBe(-1);
    },
  );

  it.each([
    ["ogg", 173.3, 173.3, 22_050],
    ["ogg", 180, 180, 44_100],
    ["ogg", 162, 176.5, 22_050],
    ["flac", 173.3, 173.3, 22_050],
  ] as const)(
    "outside tool: %s clicks at %s to %s spm, %s Hz, lie within half a sample of the exact times; no encoder delay",
    async (format, startSpm, endSpm, sampleRateHz) => {
      const lengthS = 120;
      const schedule = scheduleOf(
        session({ kind: "cue-on", durationS: lengthS, stepRateSpm: startSpm, endStepRateSpm: endSpm }),
        { sampleRateHz },
      );
      const { samples } = await decode(await bytesOf(schedule, format), format);
      const templates = (["left", "right"] as const).map((voice) =>
        clickSamples("wood", { sampleRateHz, voice, accent: false, kind: "click" }),
      );
      let worst = 0;
      for (const [beat, timeS] of exactTimesS(startSpm, endSpm, lengthS).entries()) {
        const exact = timeS * sampleRateHz;
        worst = Math.max(worst, Math.abs(locate(samples, templates[beat % 2]!, exact, 30) - exact));
      }
      // A sixteenth of a sample by making, the rest for the codec's noise on the peak of the correlation.
      expect(worst).toBeLessThan(0.5);
      expect(worst).toBeGreaterThan(0);
      expect(Math.abs(samples.length - schedule.sampleCount)).toBeLessThanOrEqual(1);
      expect(samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0)).toBeLessThan(1);
    },
  );

  it.each(["flac", "ogg"] as const)(
    "%s names the title and the initials and nothing else of the runner",
    async (format) => {
      const text = (await bytesOf(scheduleOf({ stepRateSpm: 170, durationS: 2 }), format)).toString("utf8");
      expect(text).toContain("TITLE=Zürich, stage 2");
      expect(text).toContain("ARTIST=MK");
      expect([...text.matchAll(/[A-Z]{3,}=/g)].map(([name]) => name)).toEqual(["TITLE=", "ARTIST="]);
    },
  );

  it("published: every Ogg page, ours and the encoder's, carries its checksum (RFC 3533, section 6), and pages are counted on", async () => {
    const bytes = await bytesOf(scheduleOf({ stepRateSpm: 170, durationS: 20 }), "ogg");
    let offset = 0;
    let pages = 0;
    for (; offset < bytes.length; pages += 1) {
      const segmentCount = bytes.readUInt8(offset + 26);
      const body = bytes.subarray(offset + 27, offset + 27 + segmentCount).reduce((sum, length) => sum + length, 0);
      const page = Buffer.from(bytes.subarray(offset, offset + 27 + segmentCount + body));
      const stated = page.readUInt32LE(22);
      page.writeUInt32LE(0, 22);
      expect(slowOggChecksum(page)).toBe(stated);
      expect(page.readUInt32LE(18)).toBe(pages);
      offset += page.length;
    }
    expect(offset).toBe(bytes.length);
    expect(pages).toBeGreaterThan(3);
  });

  it("published: FLAC metadata ends with our comment block, marked last, and a frame follows (RFC 9639, sections 8.1 and 9.1)", async () => {
    const schedule = scheduleOf({ stepRateSpm: 170, durationS: 20 });
    const bytes = await bytesOf(schedule, "flac");
    expect(bytes.toString("latin1", 0, 4)).toBe("fLaC");
    expect([bytes.readUInt8(4), bytes.readUIntBE(5, 3)]).toEqual([0, 34]);
    expect(Number(bytes.readBigUInt64BE(18) & 0xf_ffff_ffffn)).toBe(schedule.sampleCount);
    expect(bytes.readUInt8(42)).toBe(0x84);
    expect(bytes.readUInt16BE(46 + bytes.readUIntBE(43, 3)) & 0xfffc).toBe(0xfff8);
  });

  it("stopping half way is clean, and the next track is whole", async () => {
    const schedule = scheduleOf({ stepRateSpm: 170, durationS: 30 });
    for (const format of ["flac", "ogg", "wav"] as const) {
      const whole = await bytesOf(schedule, format);
      const track = createTrack({ schedule, sound: SOUND, tags: TAGS, format });
      if (!track.ok) throw new Error("unexpected");
      for await (const chunk of track.value.chunks()) if (chunk.length > 0) break;
      const again = await bytesOf(schedule, format);
      expect(again.length).toBe(whole.length);
      if (track.value.byteCount !== undefined) expect(whole.length).toBe(track.value.byteCount);
    }
  });

  it("two tracks encoded at the same time do not mix", async () => {
    const one = scheduleOf({ stepRateSpm: 170, durationS: 20 });
    const other = scheduleOf({ stepRateSpm: 181, durationS: 20 });
    const alone = [await bytesOf(one, "flac"), await bytesOf(other, "flac")];
    const together = await Promise.all([bytesOf(one, "flac"), bytesOf(other, "flac")]);
    expect(together.map((bytes, index) => bytes.equals(alone[index]!))).toEqual([true, true]);
  });
});

describe("file names of tracks", () => {
  it("keep letters of any script and lose what file systems and headers mistake", () => {
    const names = [
      { title: "Wednesday: stage 2/5", initials: "MK" },
      { title: "../../etc/passwd\r\nX: y", initials: "" },
      { title: "Läufe – früh", initials: "ÖD" },
      { title: "???" },
      { title: "a".repeat(300) },
    ].map((tags) => trackFileName(tags, "flac"));
    expect(names).toEqual([
      "Wednesday stage 2 5 MK.flac",
      "etc passwd X y.flac",
      "Läufe früh ÖD.flac",
      "Session.flac",
      `${"a".repeat(80)}.flac`,
    ]);
  });
});
