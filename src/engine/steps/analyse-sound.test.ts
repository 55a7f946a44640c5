import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import { type SoundRecording } from "../recordings/recording.ts";
import { backgroundSound } from "../synthetic/sound-background.ts";
import { type SoundSceneOptions, createSoundScene } from "../synthetic/sound-scene.ts";
import { analyseSound } from "./analyse-sound.ts";

const RATE_HZ = 16_000;

function scene(options: Partial<SoundSceneOptions> = {}): ReturnType<typeof createSoundScene> {
  return createSoundScene({
    seed: 1,
    durationS: 30,
    sampleRateHz: RATE_HZ,
    stepRateSpm: () => 172,
    surface: "track",
    background: "hiss",
    ...options,
  });
}

const recordingOf = (samples: Float32Array, sampleRateHz = RATE_HZ): SoundRecording => ({
  kind: "sound",
  sampleRateHz,
  samples,
  cueBlocks: [],
});
const codes = (recording: SoundRecording): readonly string[] =>
  analyseSound(recording).warnings.map((warning) => warning.code);

describe("analyseSound", () => {
  it("closed form: clicks of noise 0.36 s apart are 166.67 a minute, each found to 10 ms", () => {
    // Offsets of ±7 ms, so that nobody takes them for a metronome.
    const offsetsS = [0, 0.007, -0.007, 0.004, -0.004];
    const timesS = Array.from({ length: 50 }, (_, step) => 0.5 + 0.36 * step + offsetsS[step % 5]!);
    const samples = new Float32Array(19 * RATE_HZ);
    const random = createRandom(2);
    for (const timeS of timesS)
      for (let index = 0; index < 800; index += 1)
        samples[Math.round(timeS * RATE_HZ) + index] = 0.5 * random.normal() * Math.exp(-index / 300);
    const analysis = analyseSound(recordingOf(samples));
    expect(analysis.stepCount).toBe(50);
    expectClose(analysis.stepTimesS, timesS, { atol: 0.01, because: "one analysis frame" });
    for (const { stepRateSpm } of analysis.windows)
      expectClose(stepRateSpm ?? Number.NaN, 60 / 0.36, { atol: 1, because: "the bar: within 1 spm" });
  });

  it("property: loudness, a constant offset and a time shift change nothing that is counted", () => {
    const { recording } = scene({ durationS: 15 });
    const plain = analyseSound(recording);
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1.4, noNaN: true }),
        fc.double({ min: -0.2, max: 0.2, noNaN: true }),
        (gain, offset) => {
          const other = analyseSound(recordingOf(recording.samples.map((value) => gain * value + offset)));
          expect(other.stepCount).toBe(plain.stepCount);
          expectClose(other.stepTimesS, plain.stepTimesS, { atol: 0.01, because: "one analysis frame" });
        },
      ),
      { seed: 20261125, numRuns: 3 },
    );
    const shifted = new Float32Array(recording.samples.length + RATE_HZ);
    shifted.set(recording.samples, RATE_HZ);
    shifted.set(recording.samples.subarray(0, RATE_HZ).map((value) => value * 1e-3));
    const later = analyseSound(recordingOf(shifted)).stepTimesS;
    expectClose(
      later.subarray(-20),
      plain.stepTimesS.subarray(-20).map((timeS) => timeS + 1),
      {
        atol: 0.01,
        because: "one analysis frame",
      },
    );
  });

  it("simulation: timing asymmetry lies in its interval in at least 8 of 10 runs, and 8 % is told from 0", () => {
    let covered = 0;
    for (let seed = 0; seed < 10; seed += 1) {
      const asymmetryPercent = (seed % 5) * 2;
      const { recording } = scene({ seed, durationS: 40, sampleRateHz: 8000, asymmetryPercent, signalToNoiseDb: 15 });
      const { timingAsymmetry } = analyseSound(recording);
      if (!("estimate" in timingAsymmetry)) expect.fail(timingAsymmetry.have);
      const { low, high } = timingAsymmetry.interval95;
      if (asymmetryPercent >= low && asymmetryPercent <= high) covered += 1;
      if (asymmetryPercent === 8) expect(low).toBeGreaterThan(2);
    }
    expect(covered).toBeGreaterThanOrEqual(8);
  });

  it("simulation: loudness that falls by 12 dB in a minute is a trend of −12 dB a minute, with its caveat", () => {
    const { loudnessTrend } = analyseSound(
      scene({ durationS: 60, loudnessChangeDb: -12, signalToNoiseDb: 30 }).recording,
    );
    if (!("estimate" in loudnessTrend.changeDbPerMin)) expect.fail("no trend");
    expectClose(loudnessTrend.changeDbPerMin.estimate, -12, { atol: 3, because: "single footfalls vary by 1.5 dB" });
    expect(loudnessTrend.changeDbPerMin.interval95.high).toBeLessThan(0);
    expect(loudnessTrend.caveat).toContain("no measure of impact");
  });

  it("gives each window the cue of the block it lies in", () => {
    const { recording } = scene();
    const { windows } = analyseSound({ ...recording, cueBlocks: [{ startS: 0, endS: 12, cue: "on" }] });
    expect(windows[0]!.cue).toBe("on");
    expect(windows[1]!.cue).toBeNull();
  });
});

describe("analyseSound with a metronome or music in the clip", () => {
  const metronome = { beatsPerMinute: 180, firstBeatS: 0.2, pitchHz: 1500, woodShare: 0, accentEvery: 4, levelDb: 0 };

  it("reports only the metronome when nothing else is heard, and no rate", () => {
    const { recording } = scene({ stepRateSpm: () => 0, metronome });
    const analysis = analyseSound(recording);
    expect(analysis.warnings.map(({ code }) => code)).toEqual(["metronome-only"]);
    expectClose(analysis.confounds.metronomeBpm ?? 0, 180, { atol: 0.2, because: "a click is timed to a millisecond" });
    expect(analysis.windows.every((window) => window.stepRateSpm === null)).toBe(true);
    expect(analysis.stepCount).toBe(0);
  });

  it.each([
    ["another", 164],
    ["nearly the same", 177],
  ])("reports the runner's own rate beside a metronome of %s tempo", (_, stepRateSpm) => {
    const { recording } = scene({ stepRateSpm: () => stepRateSpm, metronome });
    const analysis = analyseSound(recording);
    expect(analysis.warnings.map(({ code }) => code)).toEqual(["metronome-heard"]);
    for (const window of analysis.windows)
      expectClose(window.stepRateSpm ?? Number.NaN, stepRateSpm, { atol: 1.5, because: "the bar and a half" });
  });

  it("hears a metronome of two pitches at its full tempo", () => {
    const { recording } = scene({ stepRateSpm: () => 150, metronome: { ...metronome, accentEvery: 2 } });
    expectClose(analyseSound(recording).confounds.metronomeBpm ?? 0, 180, { atol: 0.2, because: "as above" });
  });

  it("never calls music steps, and warns when both are heard", () => {
    const only = analyseSound(scene({ stepRateSpm: () => 0, music: { beatsPerMinute: 150, levelDb: 0 } }).recording);
    expect(only.warnings.map(({ code }) => code)).toContain("music-only");
    expect(only.windows.every((window) => window.stepRateSpm === null)).toBe(true);
    const both = analyseSound(scene({ stepRateSpm: () => 172, music: { beatsPerMinute: 120, levelDb: 6 } }).recording);
    expect(both.warnings.map(({ code }) => code)).toContain("music-heard");
  });

  it("takes neither a belt's hum nor talk for music, and a steady runner not for a metronome", () => {
    for (const background of ["belt-hum", "talk"] as const)
      expect(codes(scene({ background, signalToNoiseDb: 0, jitterShare: 0.015 }).recording)).toEqual([]);
  });
});

describe("analyseSound on sound without steps", () => {
  const noAnswer = (recording: SoundRecording): void => {
    const analysis = analyseSound(recording);
    expect(analysis.windows.every((window) => window.stepRateSpm === null && window.reason !== undefined)).toBe(true);
    expect(analysis.windows.length).toBeGreaterThan(0);
    expect(analysis.stepCount).toBe(0);
    expect(analysis.timingAsymmetry).toHaveProperty("kind", "not-enough");
    expect(analysis.loudnessTrend.changeDbPerMin).toHaveProperty("kind", "not-enough");
  };

  it.each([
    ["digital silence", new Float32Array(20 * RATE_HZ)],
    ["a constant", new Float32Array(20 * RATE_HZ).fill(0.3)],
  ])("%s: no signal", (_, samples) => {
    noAnswer(recordingOf(samples));
    expect(codes(recordingOf(samples))).toEqual(["sound-silent"]);
    expect(analyseSound(recordingOf(samples)).track.points.every(({ reason }) => reason === "no-signal")).toBe(true);
  });

  it.each(["hiss", "wind", "traffic", "belt-hum", "talk"] as const)("%s alone: no rhythm", (kind) => {
    for (const seed of [1, 2])
      noAnswer(
        recordingOf(
          Float32Array.from(backgroundSound(createRandom(seed), kind, 20 * RATE_HZ, RATE_HZ), (v) => 0.1 * v),
        ),
      );
  });

  it.each([0, 1, 5, 400])("%d samples: too short", (count) => {
    noAnswer(recordingOf(new Float32Array(count).map((_, index) => Math.sin(index))));
  });

  it("clipped footfalls are counted, with a warning", () => {
    const { recording, stepTimesS } = scene({ signalToNoiseDb: 30 });
    const loud = recordingOf(recording.samples.map((value) => Math.max(-1, Math.min(1, 20 * value))));
    expect(codes(loud)).toEqual(["sound-clipped"]);
    expect(Math.abs(analyseSound(loud).stepCount - stepTimesS.length)).toBeLessThanOrEqual(2);
  });

  it("samples that are no numbers count as silence, with a warning", () => {
    const { recording } = scene();
    const broken = recording.samples.slice();
    broken.fill(Number.NaN, 5000, 5100);
    expect(codes(recordingOf(broken))).toEqual(["sound-broken-samples"]);
    expectClose(analyseSound(recordingOf(broken)).windows[1]!.stepRateSpm ?? Number.NaN, 172, {
      atol: 1,
      because: "the bar: within 1 spm",
    });
    expect(broken[5000]).toBeNaN();
  });

  it("throws at an impossible sample rate: a programmer's error", () => {
    expect(() => analyseSound(recordingOf(new Float32Array(10), 0))).toThrow(RangeError);
    expect(() => analyseSound(recordingOf(new Float32Array(10), Number.NaN))).toThrow(/sampleRateHz/);
  });
});
