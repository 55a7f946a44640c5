import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { makeBaseline } from "../baseline/make-baseline.ts";
import { recordedMeasure } from "../baseline/recorded-measure.ts";
import { toRun } from "../change/to-run.ts";
import type { Result } from "../quantities/problem.ts";
import type { SoundRecording, TrackRecording } from "../recordings/recording.ts";
import { makeSyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { inventTrack, writeGpx, writeTrackCsv, type TrackLeg } from "../synthetic/tracks.ts";
import { analyseFile } from "./analyse-file.ts";
import { analyseRecording } from "./analyse-recording.ts";
import { summariseWindows } from "./summarise-windows.ts";

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}
const leg = (durationS: number, speedMps: number, stepRateSpm: number, slope = 0): TrackLeg => ({
  durationS,
  speedMps,
  stepRateSpm,
  slope,
});
const plan = {
  seed: 6,
  legs: [leg(120, 1.4, 110), leg(900, 3, 168), leg(60, 0, 0), leg(600, 3.4, 172, 0.03)],
  noise: { whiteM: 0.3, wanderM: 2, stepRateSpm: 1.5, elevationM: 0.5 },
};
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

describe("a track", () => {
  const invented = inventTrack(plan);
  const analysis = value(analyseRecording(invented.recording));

  test("simulation: distance, moving time and summaries are those of the invented run", () => {
    expect(analysis).toMatchObject({
      kind: "gpx",
      startedAt: "2026-03-01T08:00:00.000Z",
      surface: "outdoor",
      feetCounted: "both",
      stepTimesS: null,
    });
    expect(analysis.durationS).toBe(1680);
    expectClose(analysis.movingS, invented.truth.movingS, { atol: 12, because: "ten-second edges of standing" });
    expectClose(analysis.distanceM!, invented.truth.totalDistanceM, { rtol: 0.01, because: "required" });
    // 900 s at 168 and 600 s at 172, by time.
    expectClose(analysis.stepRateSpm!.mean, (900 * 168 + 600 * 172) / 1500, { atol: 0.4, because: "edge windows" });
    expectClose(analysis.speedMps!.mean, (900 * 3 + 600 * 3.4) / 1500, { rtol: 0.015, because: "edge windows" });
    expectClose(analysis.stepLengthM!.mean, (900 * (180 / 168) + 600 * (204 / 172)) / 1500, {
      rtol: 0.02,
      because: "both of the above",
    });
    expect(analysis.stepRateSpm!.p05).toBeGreaterThan(165);
    expect(analysis.stepRateSpm!.p95).toBeLessThan(175);
  });

  test("windows are ten seconds, end to end, with the state, slope and rate of their leg", () => {
    expect(analysis.windows.length).toBe(168);
    for (const [k, window] of analysis.windows.entries()) {
      expect(window.startS).toBe(10 * k);
      expect(window.endS).toBe(10 * k + 10);
    }
    const at = (startS: number) => analysis.windows[startS / 10]!;
    expect(at(50).state).toBe("walking");
    expect(at(500)).toMatchObject({ state: "running", cue: null });
    expectClose(at(500).stepRateSpm!, 168, { atol: 2, because: "a mean of ten values with sd 1.5" });
    expectClose(at(500).speedMps!, 3, { rtol: 0.15, because: "ten seconds of a wandering receiver" });
    expectClose(at(500).slope!, 0, { atol: 0.01, because: "level" });
    expectClose(at(1400).slope!, 0.03, { atol: 0.01, because: "the hill" });
    expect(at(500).quality).toBeGreaterThan(0.8);
    expect(at(1040)).toMatchObject({ state: "standing", stepRateSpm: null, quality: 0, reason: "standing" });
  });

  test("a file read back gives the same analysis, per foot and in CSV too", () => {
    for (const [name, text, feetCounted, kind] of [
      ["run.gpx", writeGpx(invented.recording), "both", "gpx"],
      ["run.gpx", writeGpx(invented.recording, { cadence: "one" }), "one", "gpx"],
      ["run.csv", writeTrackCsv(invented.recording), "both", "csv-track"],
    ] as const) {
      const again = value(analyseFile(utf8(text), { fileName: name }));
      expect(again).toMatchObject({ kind, feetCounted, durationS: 1680 });
      expectClose(again.distanceM!, analysis.distanceM!, { rtol: 1e-4, because: "1 cm of rounding" });
      expectClose(again.stepRateSpm!.mean, analysis.stepRateSpm!.mean, { atol: 0.3, because: "whole numbers" });
      if (feetCounted === "one") expect(again.warnings.map((w) => w.code)).toContain("feet-one");
    }
  });

  test("closed form: samples that straddle the windows are shared out between them", () => {
    const sparse = inventTrack({
      seed: 1,
      legs: [leg(120, 2.5, 160), leg(120, 3.5, 172)],
      sampleIntervalS: 4,
    }).recording;
    const belt = value(
      analyseRecording({
        ...sparse,
        recordedDistanceM: sparse.timeS.map((t) => (t <= 120 ? 2.5 * t : 300 + 3.5 * (t - 120))),
      }),
    );
    for (const window of belt.windows)
      expectClose(window.speedMps!, window.startS < 120 ? 2.5 : 3.5, { rtol: 1e-9, because: `${window.startS} s` });
  });

  test("a few odd cadence values do not pull a window", () => {
    const stepRateSpm = invented.recording.timeS.map((t) => (t % 10 < 2 ? 122 : 170));
    const odd = value(analyseRecording({ ...invented.recording, stepRateSpm }));
    const window = odd.windows[50]!;
    expect(window.stepRateSpm).toBe(170);
    expect(window.quality).toBeLessThan(0.85);
  });

  test("without cadence there is speed and no step rate; without running neither", () => {
    const silent: TrackRecording = { ...invented.recording, stepRateSpm: invented.recording.timeS.map(() => NaN) };
    const speedOnly = value(analyseRecording(silent));
    expect(speedOnly.stepRateSpm).toBeNull();
    expect(speedOnly.stepLengthM).toBeNull();
    expectClose(speedOnly.speedMps!.mean, 3.16, { rtol: 0.02, because: "the run's mean" });
    expect(speedOnly.warnings.map((w) => w.code)).toContain("no-step-rate");
    const walk = value(analyseRecording(inventTrack({ seed: 1, legs: [leg(600, 1.4, 112)] }).recording));
    expect(walk).toMatchObject({ stepRateSpm: null, speedMps: null, stepLengthM: null });
    expect(walk.warnings.map((w) => w.code)).toEqual(["no-running"]);
  });

  test.each([
    [1.8, 130, "walking"],
    [2.5, 130, "running"],
    [1.6, 150, "running"],
    [3, 110, "unknown"],
    [3, 168, "running"],
  ])("%d m/s at %i spm is %s", (speedMps, stepRateSpm, state) => {
    const { recording } = inventTrack({ seed: 1, legs: [leg(120, speedMps, stepRateSpm)] });
    expect(value(analyseRecording(recording)).windows[5]!.state).toBe(state);
  });

  test("a ride is not a run", () => {
    const ride = inventTrack({ seed: 1, legs: [leg(600, 12, 0)] }).recording;
    const result = value(analyseRecording({ ...ride, stepRateSpm: ride.timeS.map(() => NaN) }));
    expect(result.windows.filter((w) => w.state === "running")).toEqual([]);
    expect(result.windows[20]!.reason).toBe("too fast for running");
  });

  test("cue blocks mark the windows that lie wholly inside them", () => {
    const cued = value(
      analyseRecording({
        ...invented.recording,
        cueBlocks: [
          { startS: 200, endS: 300, cue: "on", targetSpm: 176 },
          { startS: 300, endS: 395, cue: "off" },
        ],
      }),
    );
    expect([190, 200, 290, 300, 390].map((s) => cued.windows[s / 10]!.cue)).toEqual([null, "on", "on", "off", null]);
  });

  test("a known belt speed is that of all running", () => {
    const belt = value(analyseRecording(invented.recording, { knownSpeedMps: 2.5, surface: "treadmill" }));
    expect(belt.surface).toBe("treadmill");
    expectClose(belt.speedMps!.mean, 2.5, { rtol: 1e-12, because: "known" });
    expectClose(belt.distanceM!, 2.5 * 1500, { rtol: 0.02, because: "1500 s of running, in whole windows" });
    const wrong = analyseRecording(invented.recording, { knownSpeedMps: 20 });
    expect(wrong.ok ? [] : wrong.problems.map((p) => p.code)).toEqual(["known-speed-out-of-range"]);
  });

  test("[M1] it is a run for a comparison and a measure for a baseline", () => {
    const steady = value(analyseRecording(inventTrack({ seed: 2, legs: [leg(900, 3, 168)] }).recording));
    const run = toRun(steady, "first", { effortRating: 4 });
    expect(run).toMatchObject({
      id: "first",
      startedAtMs: Date.UTC(2026, 2, 1, 8),
      surface: "outdoor",
      effortRating: 4,
    });
    expect(run.windows).toBe(steady.windows);
    const measure = recordedMeasure(steady);
    if (measure.kind === "not-enough") throw new Error(measure.have);
    const baseline = makeBaseline([measure]);
    if ("kind" in baseline) throw new Error(baseline.have);
    expectClose(baseline.stepRateSpm.estimate, 168, { atol: 0.01, because: "an even run" });
    expectClose(baseline.speedMps!, 3, { rtol: 0.01, because: "an even run" });
  });
});

describe("motion and sound", () => {
  const { recording } = makeSyntheticMotion({
    seed: 5,
    placement: "waist",
    segments: [{ state: "running", durationS: 180, stepRateSpm: 172 }],
  });

  test("simulation: steps come from the motion, speed from the phone's positions", () => {
    const track = inventTrack({ seed: 8, legs: [leg(180, 3.1, 172)], noise: { whiteM: 1 } }).recording;
    const positions = {
      timeS: track.timeS,
      latitudeDeg: track.latitudeDeg,
      longitudeDeg: track.longitudeDeg,
      elevationM: track.elevationM,
      accuracyM: track.timeS.map(() => 5),
    };
    const analysis = value(analyseRecording({ ...recording, positions, surface: "outdoor" }));
    expect(analysis).toMatchObject({ kind: "motion", feetCounted: "both", surface: "outdoor" });
    expectClose(analysis.stepRateSpm!.mean, 172, { atol: 1, because: "required of step detection" });
    expectClose(analysis.speedMps!.mean, 3.1, { rtol: 0.02, because: "three minutes of white noise of 1 m" });
    expectClose(analysis.stepLengthM!.mean, (60 * 3.1) / 172, { rtol: 0.02, because: "speed" });
    expectClose(analysis.distanceM!, 3.1 * 180, { rtol: 0.02, because: "speed" });
    expectClose(analysis.stepTimesS!.length, 3 * 172, { atol: 8, because: "the edges of a stretch" });
  });

  test("without positions there is no speed, unless it is known", () => {
    const alone = value(analyseRecording(recording));
    expect(alone).toMatchObject({ distanceM: null, speedMps: null, stepLengthM: null });
    expectClose(alone.movingS, 180, { atol: 10, because: "whole windows" });
    const belt = value(analyseRecording(recording, { knownSpeedMps: 3, surface: "treadmill" }));
    expectClose(belt.stepLengthM!.mean, (60 * 3) / 172, { rtol: 0.01, because: "identity" });
  });

  test("sound without feet has no running and says so", () => {
    const quiet: SoundRecording = {
      kind: "sound",
      sampleRateHz: 8000,
      samples: new Float32Array(8000 * 12),
      cueBlocks: [],
    };
    const analysis = value(analyseRecording(quiet));
    expect(analysis).toMatchObject({ kind: "sound", startedAt: null, durationS: 12, stepRateSpm: null });
    expect(analysis.warnings.map((w) => w.code)).toContain("no-running");
  });
});

describe("damaged tracks", () => {
  const folder = new URL("../../../tests/files/valid/", import.meta.url);
  const sources = readdirSync(folder)
    .filter((name) => name.endsWith(".gpx") || name.endsWith(".csv"))
    .map((name) => [name, readFileSync(new URL(name, folder))] as const);
  const finite = (value: number | null): boolean => value === null || Number.isFinite(value);

  test("property: what can still be read is analysed without a throw, and every figure is a number or null", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...sources),
        fc.array(fc.tuple(fc.nat(), fc.constantFrom(...Array.from("0123456789.-,eT:"))), {
          minLength: 1,
          maxLength: 8,
        }),
        ([fileName, source], edits) => {
          const bytes = Uint8Array.from(source);
          for (const [where, letter] of edits) bytes[where % bytes.length] = letter.charCodeAt(0);
          const result = analyseFile(bytes, { fileName });
          if (!result.ok) return;
          const { durationS, movingS, distanceM, stepRateSpm, speedMps, stepLengthM, windows } = result.value;
          expect(movingS).toBeLessThanOrEqual(durationS + 1e-9);
          expect([durationS, movingS, distanceM].every(finite)).toBe(true);
          for (const summary of [stepRateSpm, speedMps, stepLengthM])
            if (summary !== null) expect(Object.values(summary).every(finite)).toBe(true);
          expect(windows.length).toBeGreaterThan(0);
          for (const w of windows) {
            expect([w.stepRateSpm, w.speedMps, w.slope, w.heartRateBpm, w.quality].every(finite)).toBe(true);
            expect(w.quality >= 0 && w.quality <= 1).toBe(true);
          }
        },
      ),
      { seed: 9, numRuns: 1500 },
    );
  });
});

describe("summaries", () => {
  const window = (startS: number, rate: number, lengthS = 10) => ({
    startS,
    endS: startS + lengthS,
    stepRateSpm: rate,
    speedMps: null,
    slope: null,
    heartRateBpm: null,
    quality: 1,
    state: "running" as const,
    cue: null,
  });
  test("closed form: mean, percentiles by definition R-7, and the long-memory error", () => {
    const rates = [160, 164, 168, 172, 176];
    const { stepRateSpm, movingS } = summariseWindows(rates.map((rate, k) => window(10 * k, rate)));
    expect(movingS).toBe(50);
    expect(stepRateSpm).toMatchObject({ mean: 168 });
    expectClose([stepRateSpm!.p05, stepRateSpm!.p95], [160.8, 175.2], { rtol: 1e-12, because: "0.2 of a step of 4" });
    expectClose(stepRateSpm!.standardError, Math.sqrt(40) * 5 ** -0.2, { rtol: 1e-12, because: "sd √40, H 0.8" });
  });

  test("closed form: equal windows still leave the runner's own variation, and overlap is not more evidence", () => {
    const apart = summariseWindows([0, 10, 20, 30].map((s) => window(s, 170))).stepRateSpm!;
    expectClose(apart.standardError, 0.02 * 170 * ((40 * 170) / 60) ** -0.2, { rtol: 1e-12, because: "113 steps" });
    const overlapping = summariseWindows([0, 5, 10, 15, 20, 25, 30].map((s) => window(s, 170))).stepRateSpm!;
    expectClose(overlapping.standardError, apart.standardError, { rtol: 1e-12, because: "the same forty seconds" });
  });

  test("one window is no summary", () => {
    expect(summariseWindows([window(0, 170)]).stepRateSpm).toBeNull();
  });
});
