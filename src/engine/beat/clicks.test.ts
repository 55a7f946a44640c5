import { describe, expect, it } from "vitest";
import { energyShare } from "../../../tests/sound-measure.ts";
import { CLICK_BAND_HZ, PEAK_CEILING_DBFS, RMS_CEILING_DBFS, SOFT_START_S } from "../evidence/beats.ts";
import { ANNOUNCEMENT_NOTES, announcementLengthS, announcementSamples } from "./announcements.ts";
import { CLICK_SOUNDS, type ClickOptions, clickSamples } from "./clicks.ts";
import { type AnnouncementId } from "./schedule.ts";

const variants = CLICK_SOUNDS.flatMap(({ id }) =>
  [22_050, 44_100, 48_000].flatMap((sampleRateHz) =>
    (["left", "right"] as const).flatMap((voice) =>
      (
        [
          [false, "click"],
          [true, "click"],
          [false, "count-in"],
        ] as const
      ).map(([accent, kind]) => ({ id, options: { sampleRateHz, voice, accent, kind } satisfies ClickOptions })),
    ),
  ),
);
const title = "$id $options.sampleRateHz $options.voice accent $options.accent $options.kind";
const ceiling = 10 ** (PEAK_CEILING_DBFS.value / 20);

function centroidHz(samples: Float32Array, sampleRateHz: number): number {
  // Zero crossings per second of the loud first 10 ms: the pitch that is heard.
  const head = samples.subarray(0, Math.round(0.01 * sampleRateHz));
  let crossings = 0;
  for (let index = 1; index < head.length; index += 1) if (head[index]! > 0 !== head[index - 1]! > 0) crossings += 1;
  return crossings / 2 / 0.01;
}

describe("click sounds", () => {
  it("are at least four, with distinct names", () => {
    expect(new Set(CLICK_SOUNDS.map(({ name }) => name)).size).toBeGreaterThanOrEqual(4);
  });

  it.each(variants)(`carry 90 %% of their energy in 1–4 kHz: ${title}`, ({ id, options }) => {
    const { low, high } = CLICK_BAND_HZ.value;
    const share = energyShare(clickSamples(id, options), options.sampleRateHz, low, high);
    expect(share).toBeGreaterThan(0.9);
  });

  it.each(variants)(
    `start softly, end silent, have no mean and stay under the ceiling: ${title}`,
    ({ id, options }) => {
      const samples = clickSamples(id, options);
      const peak = samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      // As loud as the ceilings allow: the one of the peak, or five accents a second at the one of loudness.
      const energyS = samples.reduce((sum, value) => sum + value * value, 0) / options.sampleRateHz;
      const rmsDbfs = 10 * Math.log10(energyS * 5);
      expect(rmsDbfs).toBeLessThan(RMS_CEILING_DBFS.value + 1e-6);
      if (rmsDbfs < RMS_CEILING_DBFS.value - 0.01) expect(peak).toBeGreaterThan(0.69);
      expect(peak).toBeLessThan(ceiling - 0.18);
      expect(Math.abs(samples[0]!)).toBeLessThan(1e-6);
      expect(Math.abs(samples.at(-1)!)).toBeLessThan(1e-4);
      // The swell lasts 1 ms: half the peak not before a fifth of it, 70 % of the peak within 2 ms.
      const timeOf = (level: number): number =>
        samples.findIndex((value) => Math.abs(value) >= level * peak) / options.sampleRateHz;
      expect(timeOf(0.5)).toBeGreaterThan(0.2 * SOFT_START_S.value);
      expect(timeOf(0.7)).toBeLessThan(0.002);
      expect(Math.abs(samples.reduce((sum, value) => sum + value, 0) / samples.length)).toBeLessThan(1e-7);
    },
  );

  it.each(CLICK_SOUNDS)(
    "$name: right is higher than left unless one pitch is asked for; count-in is lower; accent has more energy",
    ({ id }) => {
      const base = { sampleRateHz: 48_000, voice: "left", accent: false, kind: "click" } as const;
      const left = clickSamples(id, base);
      const right = clickSamples(id, { ...base, voice: "right" });
      const countIn = clickSamples(id, { ...base, kind: "count-in" });
      const energy = (samples: Float32Array): number => samples.reduce((sum, value) => sum + value * value, 0);
      expect(centroidHz(right, 48_000)).toBeGreaterThan(1.08 * centroidHz(left, 48_000));
      expect(centroidHz(countIn, 48_000)).toBeLessThan(0.95 * centroidHz(left, 48_000));
      expect(energy(clickSamples(id, { ...base, accent: true }))).toBeGreaterThan(1.3 * energy(left));
      expect(clickSamples(id, { ...base, voice: "right", onePitch: true })).toEqual(left);
    },
  );
});

describe("clicks that begin between two samples", () => {
  const base = { sampleRateHz: 22_050, voice: "right", accent: false, kind: "click" } as const;

  it.each(CLICK_SOUNDS)(
    "slow twin: $name, later by an eighth, is every eighth sample of one made eight times as fine",
    ({ id }) => {
      const fine = clickSamples(id, { ...base, sampleRateHz: 8 * base.sampleRateHz });
      for (const eighths of [-4, -1, 0, 3, 4]) {
        const click = clickSamples(id, { ...base, lateBySamples: eighths / 8 });
        const twin = click.map((_, index) => fine[8 * index - eighths] ?? 0);
        // The scale follows the highest sample, so the shapes are compared, by their correlation.
        const dot = (a: Float32Array, b: Float32Array): number =>
          a.reduce((sum, value, index) => sum + value * b[index]!, 0);
        expect(dot(click, twin) / Math.sqrt(dot(click, click) * dot(twin, twin))).toBeGreaterThan(0.999_999);
        // And the loudness may flutter by less than is heard: 0.7 dB.
        const unmoved = clickSamples(id, base);
        expect(Math.abs(10 * Math.log10(dot(click, click) / dot(unmoved, unmoved)))).toBeLessThan(0.7);
        expect(Math.max(...click.map(Math.abs))).toBeLessThan(ceiling - 0.18);
      }
    },
  );

  it("refuses more than half a sample", () => {
    expect(() => clickSamples("wood", { ...base, lateBySamples: 0.6 })).toThrow(RangeError);
  });
});

describe("announcements", () => {
  const ids = Object.keys(ANNOUNCEMENT_NOTES) as AnnouncementId[];

  it.each(ids)("%s: short, in the clear band, soft at both ends, and quiet enough to lie over a click", (id) => {
    const samples = announcementSamples(id, 44_100);
    expect(announcementLengthS(id)).toBeLessThan(1);
    expect(energyShare(samples, 44_100, 1000, 4000)).toBeGreaterThan(0.9);
    expect(Math.abs(samples[0]!)).toBeLessThan(1e-6);
    expect(Math.abs(samples.at(-1)!)).toBeLessThan(0.01);
    expect(samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0)).toBeLessThanOrEqual(ceiling - 0.7);
  });

  it("no two sound alike", () => {
    expect(new Set(ids.map((id) => JSON.stringify(ANNOUNCEMENT_NOTES[id]))).size).toBe(ids.length);
  });
});
