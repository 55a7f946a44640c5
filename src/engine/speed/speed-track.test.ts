import fc from "fast-check";
import geodesic from "geographiclib-geodesic";
import { describe, expect, test } from "vitest";
import { expectClose } from "../../../tests/expect-close.ts";
import { createRandom } from "../quantities/random.ts";
import type { TrackRecording } from "../recordings/recording.ts";
import { inventTrack, type TrackLeg } from "../synthetic/tracks.ts";
import { smoothStretch } from "./kalman-smoother.ts";
import { toPlane } from "./local-plane.ts";
import { estimatePositionNoise } from "./position-noise.ts";
import { slopeOverDistance } from "./slope.ts";
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

describe("the plane", () => {
  test("outside tool: step lengths against GeographicLib's geodesics, at every latitude, heading and across 180°", () => {
    for (const lat of [-89.9, -60, -33.3, 0, 12, 45, 51.5, 70, 89.9])
      for (const azimuth of [0, 37, 90, 135, 200, 271, 300])
        for (const lengthM of [1, 30, 1000]) {
          const end = earth.Direct(lat, 179.999, azimuth, lengthM);
          const { eastM, northM } = toPlane(Float64Array.of(lat, end.lat2!), Float64Array.of(179.999, end.lon2!));
          // Near the poles a kilometre turns through several degrees of longitude: a plane is not meant for that.
          const rtol = Math.abs(lat) > 89 ? 5e-2 : 1e-6;
          const because = `latitude ${lat}, azimuth ${azimuth}, ${lengthM} m`;
          expectClose(Math.hypot(eastM[1]!, northM[1]!), lengthM, { rtol, because });
        }
  });

  test("missing places are passed over", () => {
    const { eastM, northM } = toPlane(Float64Array.of(NaN, 0, NaN, 0), Float64Array.of(10, 10, 10, 10.001));
    expect(eastM[0]).toBeNaN();
    expect(eastM[1]).toBe(0);
    expect(eastM[2]).toBeNaN();
    expectClose(eastM[3]!, earth.Inverse(0, 10, 0, 10.001).s12!, { rtol: 1e-9, because: "along the equator" });
    expect(northM[3]).toBe(0);
  });
});

describe("the smoother", () => {
  test("slow twin: the batch least-squares solution of the same model", () => {
    // Minimise Σ (z−p)²/σ² + Σ wᵀ Q⁻¹ w + prior over all states at once, by dense normal equations.
    const random = createRandom(11);
    const n = 14;
    const times = Float64Array.from({ length: n }, (_, i) => i * 1.3 + 0.2 * random.next());
    const z = Float64Array.from(times, (t) => 3 * t + 1.5 * random.normal());
    const [q, sigma] = [0.4, 1.5];
    const m = 2 * n;
    const A = Array.from({ length: m }, () => Array.from({ length: m + 1 }, () => 0));
    const add = (rows: [number, number][], weight: number, target: number): void => {
      for (const [i, a] of rows) {
        for (const [j, b] of rows) A[i]![j]! += weight * a * b;
        A[i]![m]! += weight * a * target;
      }
    };
    for (let i = 0; i < n; i += 1) add([[2 * i, 1]], 1 / sigma ** 2, z[i]!);
    add([[0, 1]], 1 / 1e6, z[0]!);
    add([[1, 1]], 1 / 16, 0);
    for (let i = 1; i < n; i += 1) {
      const t = times[i]! - times[i - 1]!;
      // Q = L Lᵀ whitened: Q⁻¹ as the sum of two squared rows.
      const [a, b, c] = [(q * t ** 3) / 3, (q * t * t) / 2, q * t];
      const p: [number, number][] = [
        [2 * i, 1],
        [2 * i - 2, -1],
        [2 * i - 1, -t],
      ];
      const v: [number, number][] = [
        [2 * i + 1, 1],
        [2 * i - 1, -1],
      ];
      add(p, 1 / a, 0);
      const l = b / a;
      const rest = new Map<number, number>();
      for (const [k, x] of v) rest.set(k, (rest.get(k) ?? 0) + x);
      for (const [k, x] of p) rest.set(k, (rest.get(k) ?? 0) - l * x);
      add([...rest], 1 / (c - b * l), 0);
    }
    for (let i = 0; i < m; i += 1) {
      for (let r = i + 1; r < m; r += 1) {
        const f = A[r]![i]! / A[i]![i]!;
        for (let k = i; k <= m; k += 1) A[r]![k]! -= f * A[i]![k]!;
      }
    }
    const x = Array.from({ length: m }, () => 0);
    for (let i = m - 1; i >= 0; i -= 1) {
      let sum = A[i]![m]!;
      for (let k = i + 1; k < m; k += 1) sum -= A[i]![k]! * x[k]!;
      x[i] = sum / A[i]![i]!;
    }
    const smooth = smoothStretch(
      { timeS: times, eastM: z, northM: new Float64Array(n), noiseM: new Float64Array(n).fill(sigma) },
      { q, gate: Infinity },
    );
    const because = "same optimum; elimination of a system conditioned near 1e6";
    expectClose(
      smooth.eastM,
      x.filter((_, i) => i % 2 === 0),
      { atol: 1e-7, because },
    );
    expectClose(
      smooth.eastMps,
      x.filter((_, i) => i % 2 === 1),
      { atol: 1e-7, because },
    );
  });

  test("simulation: the stated velocity error is the true one for noise of the model's own kind", () => {
    const random = createRandom(12);
    const n = 200;
    let [z2, count] = [0, 0];
    for (let round = 0; round < 150; round += 1) {
      const [east, north, truth] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
      const state = { p: 0, v: 3 };
      for (let i = 0; i < n; i += 1) {
        truth[i] = state.v;
        east[i] = state.p + 2 * random.normal();
        // Exact noise of one second: covariance [1/3 1/2; 1/2 1] times q.
        const [a, b] = [random.normal(), random.normal()];
        const root = Math.sqrt(0.3);
        state.p += state.v + root * (a / 2 + b / Math.sqrt(12));
        state.v += root * a;
      }
      const result = smoothStretch(
        {
          timeS: Float64Array.from(east, (_, i) => i),
          eastM: east,
          northM: north,
          noiseM: new Float64Array(n).fill(2),
        },
        { q: 0.3, gate: Infinity },
      );
      for (let i = 20; i < n - 20; i += 20) {
        z2 += ((result.eastMps[i]! - truth[i]!) / result.velocityErrorMps[i]!) ** 2;
        count += 1;
      }
    }
    // Mean of 1200 squared standard normals: 1 ± √(2/1200) = 0.041.
    expectClose(z2 / count, 1, { atol: 0.16, because: "four Monte Carlo standard errors" });
  });
});

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

test("simulation: the noise is learnt from the track, within its range", () => {
  const estimate = (whiteM: number, seconds: number, sampleIntervalS = 1): number => {
    const { recording } = inventTrack({ seed: 6, legs: [run(seconds, 3)], noise: { whiteM }, sampleIntervalS });
    return estimatePositionNoise(recording.timeS, toPlane(recording.latitudeDeg, recording.longitudeDeg));
  };
  expectClose(estimate(2, 3000), 2, { rtol: 0.05, because: "a median of 6000 values, correlated in threes" });
  expectClose(estimate(5, 3000), 5, { rtol: 0.05, because: "as above" });
  expect(estimate(0, 3000)).toBe(0.5);
  expect(estimate(20, 3000)).toBe(8);
  expect(estimate(1, 20)).toBe(3);
  expect(estimate(1, 3000, 5)).toBe(3);
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

describe("slope", () => {
  test("closed form: an even hill has its slope everywhere", () => {
    const distanceM = Float64Array.from({ length: 300 }, (_, i) => 3 * i);
    const slope = slopeOverDistance(
      distanceM,
      distanceM.map((d) => 50 + 0.04 * d),
    );
    expectClose(
      slope,
      distanceM.map(() => 0.04),
      { atol: 1e-9, because: "running sums" },
    );
  });

  test("slow twin: a least-squares line through each neighbourhood", () => {
    const random = createRandom(8);
    const distanceM = Float64Array.from({ length: 200 }, (_, i) => 3 * i + random.next());
    const elevationM = distanceM.map((d) => 20 * Math.sin(d / 150) + 0.3 * random.normal());
    const expected = Array.from(distanceM, (here) => {
      const near = [...distanceM.keys()].filter((i) => Math.abs(distanceM[i]! - here) <= 50);
      const mx = near.reduce((sum, i) => sum + distanceM[i]!, 0) / near.length;
      const my = near.reduce((sum, i) => sum + elevationM[i]!, 0) / near.length;
      const xx = near.reduce((sum, i) => sum + (distanceM[i]! - mx) ** 2, 0);
      return near.reduce((sum, i) => sum + (distanceM[i]! - mx) * (elevationM[i]! - my), 0) / xx;
    });
    const slope = slopeOverDistance(distanceM, elevationM);
    const known = [...slope.keys()].filter((i) => !Number.isNaN(slope[i]!));
    expect(known.length).toBeGreaterThan(150);
    expectClose(
      known.map((i) => slope[i]!),
      known.map((i) => expected[i]!),
      { atol: 1e-9, because: "running sums" },
    );
  });

  test("too little ground, too much noise, or no elevation: unknown", () => {
    const random = createRandom(8);
    const distanceM = Float64Array.from({ length: 100 }, (_, i) => 3 * i);
    const all = (values: Float64Array): boolean => values.every((value) => Number.isNaN(value));
    expect(
      all(
        slopeOverDistance(
          distanceM.map((d) => d / 10),
          distanceM,
        ),
      ),
    ).toBe(true);
    expect(
      all(
        slopeOverDistance(
          distanceM,
          distanceM.map(() => NaN),
        ),
      ),
    ).toBe(true);
    // Standard error √(σ² n / (n_eff − 2) / Sxx) = √(4 · 33 / 8 / 27,500) = 2.4 %, above the 1 % that is shown.
    const uneasy = slopeOverDistance(
      distanceM,
      distanceM.map(() => 2 * random.normal()),
    );
    expect([...uneasy].filter((value) => !Number.isNaN(value)).length).toBeLessThan(5);
    const noisy = slopeOverDistance(
      distanceM,
      distanceM.map(() => 30 * random.normal()),
    );
    expect([...noisy].filter((value) => !Number.isNaN(value)).length).toBeLessThan(5);
  });

  test("property: raising the ground or the start changes nothing", () => {
    const base = Float64Array.from({ length: 120 }, (_, i) => 2.9 * i);
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 5000 }), fc.integer({ min: 0, max: 40_000 }), (up, along) => {
        const hill = base.map((d) => 15 * Math.cos(d / 200));
        const there = slopeOverDistance(
          base.map((d) => d + along),
          hill.map((e) => e + up),
        );
        expectClose(there, slopeOverDistance(base, hill), { atol: 1e-6, because: "running sums over 40 km" });
      }),
      { seed: 4, numRuns: 50 },
    );
  });
});
