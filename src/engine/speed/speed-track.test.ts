import geodesic from "geographiclib-geodesic";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import type { TrackRecording } from "../recordings/recording.ts";
import { inventTrack, type TrackLeg } from "../synthetic/tracks.ts";
import { speedOfTrack } from "./speed-track.ts";

const earth = geodesic.Geodesic.WGS84;
const run = (durationS: number, speedMps: number, more: Partial<TrackLeg> = {}): TrackLeg => ({
  durationS,
  speedMps,
  stepRateSpm: 168,
  ...more,
});
/** Laps of a 400 m track: two straights and two bends of 36.5 m radius (World Athletics' standard track). */
const laps = (count: number, speedMps: number): TrackLeg[] =>
  Array.from({ length: count }, () => [
    run(84.39 / speedMps, speedMps),
    run((Math.PI * 36.5) / speedMps, speedMps, { turnRadPerS: speedMps / 36.5 }),
    run(84.39 / speedMps, speedMps),
    run((Math.PI * 36.5) / speedMps, speedMps, { turnRadPerS: speedMps / 36.5 }),
  ]).flat();
const city = Array.from({ length: 20 }, (_, i) => [
  run(60, 2.8),
  run(2, 2.8, { turnRadPerS: ((i % 2 === 0 ? 1 : -1) * Math.PI) / 4 }),
]).flat();

describe("distance and moving time", () => {
  test.each([
    ["a straight road", [run(1800, 3)], 51.5],
    ["laps of a 400 m track", laps(10, 3.2), 48],
    ["city blocks with right-angled corners", city, -33.9],
    ["a walk, a run and a sprint", [run(300, 1.4), run(600, 2.9), run(60, 6)], 60.2],
  ])("outside tool: %s is within 1 % of the geodesic length", (_, legs, latitudeDeg) => {
    const { recording, truth } = inventTrack({ seed: 1, legs, latitudeDeg });
    const dense = inventTrack({ seed: 1, legs, latitudeDeg, sampleIntervalS: 0.1 }).recording;
    let geodesicM = 0;
    for (let i = 1; i < dense.timeS.length; i += 1)
      geodesicM += earth.Inverse(
        dense.latitudeDeg[i - 1]!,
        dense.longitudeDeg[i - 1]!,
        dense.latitudeDeg[i]!,
        dense.longitudeDeg[i]!,
      ).s12!;
    expectClose(truth.totalDistanceM, geodesicM, { rtol: 1e-5, because: "the invented truth itself" });
    const track = speedOfTrack(recording);
    expect(track.source).toBe("positions");
    expectClose(track.totalDistanceM!, geodesicM, { rtol: 0.01, because: "required: 1 % on clean tracks" });
    expectClose(track.movingS!, truth.movingS, { atol: 3, because: "one sample, and the ends of the standing window" });
  });

  test("simulation: with a receiver's wandering and white noise the distance of 6 km stays within 2 %", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const noise = { whiteM: 0.5, wanderM: 3, wanderTimeS: 40 };
      const { recording, truth } = inventTrack({ seed, legs: laps(15, 3), latitudeDeg: 48, noise });
      const off = speedOfTrack(recording).totalDistanceM! / truth.totalDistanceM - 1;
      expect(Math.abs(off), `seed ${seed}: ${off}`).toBeLessThan(0.02);
    }
  });

  test("speed over a minute is within 1 % on a clean track, and within 5 % on a noisy one", () => {
    for (const [noise, rtol] of [
      [{}, 0.01],
      [{ whiteM: 0.5, wanderM: 3, wanderTimeS: 40 }, 0.05],
    ] as const) {
      const { recording, truth } = inventTrack({ seed: 3, legs: [run(600, 3), run(600, 3.6)], noise });
      const track = speedOfTrack(recording);
      for (let start = 60; start < 1140; start += 60) {
        const mean = (track.distanceM[start + 60]! - track.distanceM[start]!) / 60;
        const true60 = (truth.distanceM[start + 60]! - truth.distanceM[start]!) / 60;
        expectClose(mean, true60, { rtol, because: `minute from ${start} s` });
      }
    }
  });

  test("positions thrown 50 m aside are left out and counted", () => {
    const { recording, truth } = inventTrack({
      seed: 9,
      legs: [run(1200, 3)],
      noise: { whiteM: 0.3, outlierShare: 0.02 },
    });
    const track = speedOfTrack(recording);
    expectClose(track.totalDistanceM!, truth.totalDistanceM, { rtol: 0.01, because: "outliers are not run" });
    expect(track.warnings.map((w) => w.code)).toEqual(["position-outliers"]);
    expect(Math.max(...track.speedMps)).toBeLessThan(4.5);
  });

  test("a jump for good counts for nothing", () => {
    const { recording, truth } = inventTrack({ seed: 9, legs: [run(600, 3)] });
    const longitudeDeg = recording.longitudeDeg.map((lon, i) => (i >= 300 ? lon + 0.01 : lon));
    const track = speedOfTrack({ ...recording, longitudeDeg });
    expect(track.warnings.map((w) => w.code)).toEqual(["position-jumps"]);
    expectClose(track.totalDistanceM!, truth.totalDistanceM, { atol: 5, because: "one second is lost" });
  });

  test("standing is no distance and no moving time, whatever the receiver wanders", () => {
    const legs = [run(300, 3), run(120, 0, { stepRateSpm: 0 }), run(300, 3)];
    const { recording, truth } = inventTrack({ seed: 4, legs, noise: { whiteM: 0.3, wanderM: 2, wanderTimeS: 60 } });
    for (const stepRateSpm of [recording.stepRateSpm, recording.stepRateSpm.map(() => NaN)]) {
      const track = speedOfTrack({ ...recording, stepRateSpm });
      expectClose(track.movingS!, 600, { atol: 8, because: "the edges of a ten-second window" });
      expectClose(track.totalDistanceM!, truth.totalDistanceM, { rtol: 0.02, because: "wandering at 2 m" });
      const longest = [...track.pauses].sort((a, b) => b.endS - b.startS - (a.endS - a.startS))[0]!;
      expectClose([longest.startS, longest.endS], [300, 420], { atol: 6, because: "half the standing window" });
    }
  });

  test("a gap counts as the straight way across, its speed as unknown; the way between segments is not counted", () => {
    const { recording } = inventTrack({ seed: 4, legs: [run(600, 3)] });
    const keep = (values: Float64Array): Float64Array => values.filter((_, i) => i < 200 || i >= 300);
    const cut: TrackRecording = {
      ...recording,
      ...Object.fromEntries(
        Object.entries(recording).map(([key, value]) => [key, value instanceof Float64Array ? keep(value) : value]),
      ),
    };
    const gap = speedOfTrack(cut);
    expectClose(gap.totalDistanceM!, 1800, { rtol: 0.005, because: "the road is straight" });
    expect(gap.gaps).toEqual([{ startS: 199, endS: 300 }]);
    expect(gap.warnings.map((w) => w.code)).toEqual(["position-gaps"]);
    const segments = speedOfTrack({ ...cut, segmentStartIndex: [0, 200] });
    expectClose(segments.totalDistanceM!, 1800 - 303, { atol: 5, because: "101 s at 3 m/s are not counted" });
    expectClose(segments.movingS!, 499, { atol: 2, because: "nor is their time" });
  });
});

test("turning on the spot between sparse points is no outlier", () => {
  const shuttle = Array.from({ length: 12 }, () => [run(57, 3), run(1, 3, { turnRadPerS: Math.PI })]).flat();
  const { recording, truth } = inventTrack({ seed: 4, legs: shuttle, noise: { whiteM: 0.3 } });
  // Every second for two minutes, so that the noise is known to be small; then every sixth.
  const keep = (values: Float64Array): Float64Array => values.filter((_, i) => i < 120 || i % 6 === 0);
  const track = speedOfTrack({
    ...recording,
    ...Object.fromEntries(
      Object.entries(recording).map(([key, column]) => [key, column instanceof Float64Array ? keep(column) : column]),
    ),
  });
  expect(track.warnings).toEqual([]);
  expectClose(track.totalDistanceM!, truth.totalDistanceM, { rtol: 0.08, because: "six seconds cut each turn short" });
});

test("a short break between segments is not counted either", () => {
  const { recording } = inventTrack({ seed: 4, legs: [run(600, 3)] });
  const keep = (values: Float64Array): Float64Array => values.filter((_, i) => i < 200 || i >= 210);
  const cut: TrackRecording = {
    ...recording,
    ...Object.fromEntries(
      Object.entries(recording).map(([key, column]) => [key, column instanceof Float64Array ? keep(column) : column]),
    ),
  };
  expectClose(speedOfTrack(cut).totalDistanceM!, 1800, { atol: 1, because: "an unbroken segment" });
  const split = speedOfTrack({ ...cut, segmentStartIndex: [0, 200] });
  expectClose(split.totalDistanceM!, 1800 - 33, { atol: 1, because: "11 s at 3 m/s" });
});

test("a cadence of 0 is standing even while the ground moves", () => {
  const { recording } = inventTrack({ seed: 4, legs: [run(300, 3), run(100, 1.5), run(300, 3)] });
  const stepRateSpm = recording.timeS.map((t) => (t >= 300 && t < 400 ? 0 : 168));
  const track = speedOfTrack({ ...recording, stepRateSpm });
  expectClose(track.movingS!, 600, { atol: 2, because: "a hundred seconds on a moving walkway" });
  expectClose(track.totalDistanceM!, 1800, { atol: 6, because: "its way does not count" });
});

describe("recorded speed and distance", () => {
  const base = inventTrack({ seed: 2, legs: [run(600, 3)] }).recording;
  const missing = base.timeS.map(() => NaN);
  const indoors: TrackRecording = { ...base, latitudeDeg: missing, longitudeDeg: missing, surface: "treadmill" };

  test("closed form: a belt's speed is known", () => {
    const track = speedOfTrack({ ...indoors, recordedSpeedMps: base.timeS.map((t) => (t < 300 ? 2.5 : 3.5)) });
    expect(track.source).toBe("speed");
    expectClose(track.totalDistanceM!, 2.5 * 299 + 3 + 3.5 * 300, { rtol: 1e-12, because: "trapezium over each step" });
    expect(track.movingS).toBe(600);
  });

  test("closed form: measured laps give an even speed between their entries", () => {
    const recordedDistanceM = base.timeS.map((t) => (t % 150 === 0 ? (400 * t) / 150 : NaN));
    const track = speedOfTrack({ ...indoors, recordedDistanceM });
    expect(track.source).toBe("distance");
    expectClose(track.totalDistanceM!, 1600, { rtol: 1e-12, because: "four laps" });
    expectClose(
      track.speedMps,
      base.timeS.map(() => 400 / 150),
      { rtol: 1e-12, because: "150 s a lap" },
    );
  });

  test("a distance that falls is not believed", () => {
    const recordedDistanceM = base.timeS.map((t) => (t === 400 ? 100 : 3 * t));
    expect(speedOfTrack({ ...base, recordedDistanceM }).source).toBe("positions");
  });

  test("a recorded speed that the positions contradict is told", () => {
    const track = speedOfTrack({ ...base, recordedSpeedMps: base.timeS.map(() => 3.3) });
    expect(track.source).toBe("speed");
    expect(track.warnings.map((w) => w.code)).toEqual(["speed-disagrees"]);
    expect(track.warnings[0]!.message).toContain("10 % more");
  });

  test("nothing at all is no speed", () => {
    expect(speedOfTrack(indoors)).toMatchObject({ source: "none", totalDistanceM: null, movingS: null });
  });
});
