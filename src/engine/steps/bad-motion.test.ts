// What is no gait, or no recording: every case ends in a clear answer, and never in running.
import { describe, expect, test } from "vitest";
import { createRandom } from "../quantities/random.ts";
import { type MotionRecording } from "../recordings/recording.ts";
import { makeSyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { analyseMotion } from "./analyse-motion.ts";
import { createLiveSteps } from "./live-steps.ts";

function recordingOf(
  durationS: number,
  rateHz: number,
  at: (timeS: number) => readonly [number, number, number],
): MotionRecording {
  const n = Math.floor(durationS * rateHz);
  const timeS = Float64Array.from({ length: n }, (_, i) => i / rateHz);
  const values = Array.from(timeS, at);
  const axis = (index: number): Float64Array => Float64Array.from(values, (value) => value[index]!);
  return {
    kind: "motion",
    surface: "unknown",
    timeS,
    accelXMps2: axis(0),
    accelYMps2: axis(1),
    accelZMps2: axis(2),
    gravity: "included",
    cueBlocks: [],
  };
}

const reasons = (recording: MotionRecording): readonly (string | undefined)[] => [
  ...new Set(analyseMotion(recording).windows.map((window) => window.reason)),
];
const rates = (recording: MotionRecording): readonly number[] =>
  analyseMotion(recording)
    .track.points.map((point) => point.stepRateSpm)
    .filter((rate) => rate !== null);

describe("dead and broken sensors", () => {
  test.each([
    ["all zero", 0],
    ["constant gravity", 9.80665],
  ])("%s: no signal", (_, z) => {
    const recording = recordingOf(30, 100, () => [0, 0, z]);
    expect(reasons(recording)).toEqual(["the sensor gives no signal"]);
    expect(analyseMotion(recording).stepCount).toBe(0);
  });
  test("a coarse sensor that is exactly still between two runs stands; it is not dead", () => {
    const made = makeSyntheticMotion({
      seed: 9,
      placement: "waist",
      segments: [{ state: "running", durationS: 20, stepRateSpm: 166 }],
    });
    const { recording } = made;
    const n = recording.timeS.length;
    const stretch = (axis: Float64Array, still: number): Float64Array =>
      Float64Array.of(...axis, ...Array.from({ length: n }, () => still), ...axis);
    const timeS = Float64Array.from({ length: 3 * n }, (_, i) => i / 100);
    const { track } = analyseMotion({
      ...recording,
      timeS,
      accelXMps2: stretch(recording.accelXMps2, 0),
      accelYMps2: stretch(recording.accelYMps2, 0),
      accelZMps2: stretch(recording.accelZMps2, 9.8),
    });
    const still = track.points.filter((point) => point.timeS > 23.5 && point.timeS < 36.5);
    expect(still.length).toBeGreaterThan(10);
    expect(still.every((point) => point.state === "standing")).toBe(true);
  });
  test("all NaN: every sample left out and told", () => {
    const analysis = analyseMotion(recordingOf(30, 100, () => [NaN, NaN, NaN]));
    expect(analysis.windows.every((window) => window.stepRateSpm === null && window.state === "unknown")).toBe(true);
    expect(analysis.warnings).toMatchObject([{ code: "samples-skipped" }]);
  });
  test("NaN now and then: the rate stands", () => {
    const made = makeSyntheticMotion({
      seed: 3,
      placement: "waist",
      segments: [{ state: "running", durationS: 20, stepRateSpm: 166 }],
    });
    const random = createRandom(1);
    made.recording.accelYMps2.forEach((_, i, axis) => {
      if (random.next() < 0.1) axis[i] = NaN;
    });
    for (const rate of rates(made.recording)) expect(Math.abs(rate - 166)).toBeLessThan(4);
    expect(rates(made.recording).length).toBeGreaterThan(12);
  });
  test("five samples, one sample, none: too short", () => {
    for (const count of [5, 1, 0]) {
      const analysis = analyseMotion(recordingOf(count / 100, 100, () => [0, 0, 9.8]));
      expect(analysis.windows).toHaveLength(1);
      expect(analysis.windows[0]).toMatchObject({
        stepRateSpm: null,
        state: "unknown",
        reason: "too few samples for a step rate",
      });
      expect(analysis.stepTimesS.length).toBe(0);
      expect(analysis.timingAsymmetry).toMatchObject({ kind: "not-enough" });
    }
  });
  test("a hole of a minute: windows in it have no rate, both sides do, times stay true", () => {
    const made = makeSyntheticMotion({
      seed: 4,
      placement: "hand",
      segments: [{ state: "running", durationS: 40, stepRateSpm: 170 }],
    });
    const { recording } = made;
    const timeS = recording.timeS.map((t) => (t > 20 ? t + 60 : t));
    const { windows, stepTimesS } = analyseMotion({ ...recording, timeS });
    for (const window of windows) {
      const inHole = window.startS >= 20 && window.endS <= 80;
      expect(window.stepRateSpm === null, `${window.startS}–${window.endS}`).toBe(inHole);
    }
    expect(stepTimesS.filter((t) => t > 21 && t < 79)).toHaveLength(0);
    expect(Math.abs(stepTimesS.length - made.stepTimesS.length)).toBeLessThanOrEqual(4);
  });
  test("10 Hz is told to be too slow", () => {
    const codes = analyseMotion(recordingOf(20, 10, (t) => [0, 0, 9.8 + Math.sin(t)])).warnings.map((w) => w.code);
    expect(codes).toContain("low-sample-rate");
  });
  test("a sensor that stops at 2 g is told, and the rate stands", () => {
    const made = makeSyntheticMotion({
      seed: 5,
      placement: "ankle",
      clipMps2: 19.6,
      segments: [{ state: "running", durationS: 30, stepRateSpm: 172 }],
    });
    expect(analyseMotion(made.recording).warnings.map((w) => w.code)).toEqual(["samples-clipped"]);
    for (const rate of rates(made.recording)) expect(Math.abs(rate - 172)).toBeLessThan(4);
  });
});

describe("simulation: shaking that is no gait has no step rate", () => {
  test.each([
    ["white, weak", 0, 2],
    ["white, strong", 0, 12],
    ["red", 0.9, 8],
    ["very red", 0.98, 4],
  ])("noise: %s", (_, pole, size) => {
    let answered = 0;
    for (let seed = 1; seed <= 5; seed += 1) {
      const random = createRandom(seed);
      const state: [number, number, number] = [0, 0, 0];
      const recording = recordingOf(60, 100, () => {
        for (let a = 0; a < 3; a += 1)
          state[a] = pole * state[a]! + Math.sqrt(1 - pole * pole) * size * random.normal();
        return [state[0], state[1], 9.8 + state[2]];
      });
      answered += rates(recording).length;
      expect(reasons(recording)).toEqual(["no regular rhythm of steps"]);
    }
    expect(answered).toBe(0);
  });
  test("a car: body bounce, wheel hop, engine tone, road joints", () => {
    let running = 0;
    let answered = 0;
    let points = 0;
    for (let seed = 1; seed <= 8; seed += 1) {
      const track = analyseMotion(carRide(seed)).track.points;
      points += track.length;
      running += track.filter((point) => point.state === "running").length;
      answered += track.filter((point) => point.stepRateSpm !== null).length;
    }
    expect(running).toBe(0);
    expect(answered).toBeLessThanOrEqual(0.01 * points);
  });
});

/** A mass on springs driven by a rough road, sampled at 50 Hz. */
function carRide(seed: number): MotionRecording {
  const random = createRandom(seed);
  const bounceHz = 1.1 + 0.9 * random.next();
  const damping = 0.15 + 0.2 * random.next();
  const rough = 0.5 + 2 * random.next();
  const engineHz = 20 + 10 * random.next();
  const fine = 400;
  const place = [0, 0, 0];
  const speed = [0, 0, 0];
  let hop = 0;
  let hopSpeed = 0;
  return recordingOf(60, 50, (timeS) => {
    for (let k = 0; k < fine / 50; k += 1) {
      for (let a = 0; a < 3; a += 1) {
        const w = 2 * Math.PI * bounceHz * (a === 2 ? 1 : 0.7);
        speed[a]! += (20 * rough * random.normal() - w * w * place[a]! - 2 * damping * w * speed[a]!) / fine;
        place[a]! += speed[a]! / fine;
      }
      const w = 2 * Math.PI * 11;
      hopSpeed += (60 * rough * random.normal() - w * w * hop - 0.3 * w * hopSpeed) / fine;
      hop += hopSpeed / fine;
    }
    const w = (2 * Math.PI * bounceHz) ** 2;
    const engine = 0.2 * Math.sin(2 * Math.PI * engineHz * timeS);
    const sinceJoint = (timeS * 1.7) % 1;
    const joint = seed % 4 === 0 ? 1.2 * Math.exp(-sinceJoint / 0.08) * Math.sin(50 * sinceJoint) : 0;
    return [
      0.4 * w * place[0]! + engine,
      0.4 * w * place[1]!,
      9.8 + w * place[2]! + 0.03 * (2 * Math.PI * 11) ** 2 * hop + joint,
    ];
  });
}

describe("a day of samples", () => {
  test("24 hours at 25 Hz: linear, and the answer is there", () => {
    const minute = makeSyntheticMotion({
      seed: 6,
      placement: "waist",
      sampleRateHz: 25,
      segments: [{ state: "running", durationS: 60, stepRateSpm: 168 }],
    }).recording;
    const n = minute.timeS.length;
    const repeats = 24 * 60;
    const long = (axis: Float64Array): Float64Array => {
      const out = new Float64Array(n * repeats);
      for (let r = 0; r < repeats; r += 1) out.set(axis, r * n);
      return out;
    };
    const timeS = long(minute.timeS).map((t, i) => t + 60.04 * Math.floor(i / n));
    const analysis = analyseMotion(
      {
        ...minute,
        timeS,
        accelXMps2: long(minute.accelXMps2),
        accelYMps2: long(minute.accelYMps2),
        accelZMps2: long(minute.accelZMps2),
      },
      { hopS: 2.5 },
    );
    expect(analysis.windows.length).toBeGreaterThan(17_000);
    const answered = analysis.windows.filter((window) => window.stepRateSpm !== null);
    expect(answered.length).toBeGreaterThan(0.99 * analysis.windows.length);
    expect(answered.every((window) => Math.abs(window.stepRateSpm! - 168) < 4)).toBe(true);
    expect(Math.abs(analysis.stepCount / (24 * 60 * 168) - 1)).toBeLessThan(0.01);
  }, 120_000);
});

test("property: input is not changed, and the same input gives the same answer", () => {
  const made = makeSyntheticMotion({
    seed: 8,
    placement: "wrist",
    segments: [{ state: "running", durationS: 15, stepRateSpm: 180 }],
  });
  const before = structuredClone(made.recording);
  const first = analyseMotion(made.recording);
  expect(made.recording).toEqual(before);
  expect(analyseMotion(made.recording)).toEqual(first);
});

test("live: broken samples are passed over, and nothing is said before there is anything to say", () => {
  const live = createLiveSteps();
  expect(live.read()).toMatchObject({ stepRateSpm: null, reason: "too-short", stepCount: 0, updatedAtS: null });
  live.push(NaN, 0, 0, 0);
  live.push(0, 0, NaN, 0);
  live.push(Infinity, 0, 0, 9.8);
  for (let i = 0; i < 1000; i += 1) live.push(i / 100, 0, 0, 9.8);
  live.push(5, 100, 100, 100); // back in time
  expect(live.read()).toMatchObject({ stepRateSpm: null, reason: "no-signal", state: "unknown" });
});
