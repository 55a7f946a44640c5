import { describe, expect, it } from "vitest";
import { scheduleOf } from "../../../tests/beat-sessions.ts";
import { firstDifference, joinChunks } from "../../../tests/sound-measure.ts";
import { announcementSamples } from "../../engine/beat/announcements.ts";
import { beatEvents } from "../../engine/beat/events.ts";
import { renderBeat } from "../../engine/beat/render.ts";
import { type SessionBlock } from "../../engine/session/session.ts";
import { type Speaker, blockWords, readSpeech, speakAnnouncements } from "./speech.ts";

const BLOCKS: readonly SessionBlock[] = [
  { kind: "warm-up", durationS: 30 },
  { kind: "cue-on", durationS: 60, stepRateSpm: 171.6 },
  { kind: "cue-off", distanceM: 400, speedMps: 3, stepRateSpm: 172 },
];

/** Stands in for a voice: half a second of a 300 Hz square at full scale, 22.05 kHz. */
const buzz: Speaker = async () =>
  await Promise.resolve({
    sampleRateHz: 22_050,
    samples: Int16Array.from({ length: 11_025 }, (_, index) =>
      Math.sin((2 * Math.PI * 300 * index) / 22_050) > 0 ? 32_767 : -32_767,
    ),
  });

describe("spoken announcements", () => {
  it("say the block, its rate and its length, and no rate where no beat plays", () => {
    expect(BLOCKS.map(blockWords)).toEqual([
      "Warm up. 30 seconds.",
      "Beat on, 172. 60 seconds.",
      "Beat off, keep the steps. 400 metres.",
    ]);
    expect(blockWords({ kind: "cool-down", durationS: 600 })).toBe("Cool down. 10 minutes.");
  });

  it("follow the tones, end before their block, and stay under the ceiling over clicks", async () => {
    const sampleRateHz = 44_100;
    const { lengthsS, sounds } = await speakAnnouncements(BLOCKS, buzz, sampleRateHz);
    expect(sounds.length).toBe(4);
    const schedule = scheduleOf(
      { id: "s", title: "", blocks: BLOCKS },
      { sampleRateHz, announce: true, announcementLengthsS: lengthsS, countInBeats: 4 },
    );
    const announced = [...beatEvents(schedule)].filter((event) => event.kind === "announce");
    const tones = announcementSamples("cue-on", sampleRateHz);
    expect(lengthsS[1]).toBeCloseTo(tones.length / sampleRateHz + 0.15 + 0.5, 3);
    const countInS = 4 * (60 / 171.6);
    expect(announced[1]!.timeS).toBeCloseTo(schedule.blocks[1]!.startS - countInS - 0.25 - lengthsS[1]!, 9);
    const sound = joinChunks(renderBeat(schedule, { clickId: "glass", announcementSounds: sounds }));
    expect(firstDifference(sound.subarray(announced[1]!.sampleIndex).subarray(0, sounds[1]!.length), sounds[1]!)).toBe(
      -1,
    );
    let peak = 0;
    for (const value of sound) peak = Math.max(peak, Math.abs(value));
    expect(peak).toBeLessThanOrEqual(32_767 * 10 ** (-1 / 20));
    const end = announced[3]!.sampleIndex;
    expect(firstDifference(sound.subarray(end, end + sounds[3]!.length), sounds[3]!)).toBe(-1);
  });

  it("WAV as a speech program streams it, with a length that it could not know", () => {
    const wav = Buffer.alloc(50);
    wav.write("RIFF", 0, "latin1");
    wav.writeUInt32LE(0x7fff_f024, 4);
    wav.write("WAVEfmt ", 8, "latin1");
    wav.writeUInt32LE(16, 16);
    wav.writeUInt16LE(1, 20);
    wav.writeUInt16LE(1, 22);
    wav.writeUInt32LE(22_050, 24);
    wav.writeUInt16LE(16, 34);
    wav.write("data", 36, "latin1");
    wav.writeUInt32LE(0x7fff_f000, 40);
    [1, -2, 3].forEach((value, index) => wav.writeInt16LE(value, 44 + 2 * index));
    expect(readSpeech(wav)).toEqual({ sampleRateHz: 22_050, samples: Int16Array.of(1, -2, 3) });
    expect(() => readSpeech(Buffer.from("no speech program wrote these bytes, they are text"))).toThrow("16-bit mono");
  });
});
