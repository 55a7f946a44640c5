// Recordings that invite half or twice the rate: dead axes, tones folded into the band, strolls, sprints; and movements
// that are no gait. The rate is right, or there is none.
import { describe, expect, it } from "vitest";
import { createRandom, type Random } from "../quantities/random.ts";
import { type MotionRecording } from "../recordings/recording.ts";
import { type Placement } from "../synthetic/body-motion.ts";
import { makeOtherMotion, type OtherMovement } from "../synthetic/other-motion.ts";
import { makeSyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { analyseMotion } from "./analyse-motion.ts";
import { type RatePoint } from "./rate-track.ts";

const SEEDS = process.env["SPONDEE_LONG"] === undefined ? 4 : 40;
const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];

interface Trap {
  readonly name: string;
  readonly state: "running" | "walking";
  readonly ratesSpm: readonly [number, number];
  readonly sampleRateHz?: number;
  readonly spoil?: (recording: MotionRecording, random: Random) => MotionRecording;
  /** Share of the points that must have an answer, over all placements. */
  readonly answered: number;
  /** Most points of the wrong octave: as a share of all points, and of those said to be right with more than 0.9. */
  readonly wrong?: number;
  readonly sureWrong?: number;
}

const dead = (axis: "accelXMps2" | "accelYMps2" | "accelZMps2") => (recording: MotionRecording) => ({
  ...recording,
  [axis]: new Float64Array(recording.timeS.length),
});

/** A motor's tone just beside the sampling rate: it comes out slow, among the rates of legs. */
function foldedTone(recording: MotionRecording, random: Random): MotionRecording {
  const hz = 47 + 5 * random.next();
  const sizeMps2 = 2 + 4 * random.next();
  const add = (axis: Float64Array, quarter: number) =>
    axis.map((a, i) => a + sizeMps2 * Math.sin(2 * Math.PI * hz * recording.timeS[i]! + quarter));
  return {
    ...recording,
    accelXMps2: add(recording.accelXMps2, 0),
    accelZMps2: add(recording.accelZMps2, Math.PI / 2),
  };
}

const TRAPS: readonly Trap[] = [
  { name: "a dead x axis", state: "running", ratesSpm: [150, 200], spoil: dead("accelXMps2"), answered: 0.95 },
  { name: "a dead y axis", state: "running", ratesSpm: [150, 200], spoil: dead("accelYMps2"), answered: 0.95 },
  { name: "a dead z axis", state: "running", ratesSpm: [150, 200], spoil: dead("accelZMps2"), answered: 0.95 },
  {
    name: "a folded tone",
    state: "running",
    ratesSpm: [150, 200],
    sampleRateHz: 50,
    spoil: foldedTone,
    answered: 0.95,
  },
  { name: "a sprint", state: "running", ratesSpm: [210, 235], answered: 0.85 },
  { name: "a stroll", state: "walking", ratesSpm: [72, 85], answered: 0.2 },
  { name: "a crawl", state: "walking", ratesSpm: [62, 70], answered: 0, wrong: 0.03, sureWrong: 0.05 },
];

function pointsOf(trap: Trap, placement: Placement, seed: number): readonly { point: RatePoint; trueSpm: number }[] {
  const random = createRandom(seed * 7 + 1);
  const [low, high] = trap.ratesSpm;
  const made = makeSyntheticMotion({
    seed: seed * 31 + PLACEMENTS.indexOf(placement) * 1000,
    placement,
    segments: [{ state: trap.state, durationS: 20, stepRateSpm: low + (high - low) * random.next() }],
    ...(trap.sampleRateHz === undefined ? {} : { sampleRateHz: trap.sampleRateHz }),
  });
  const { stepTimesS, recording } = made;
  const trueSpm = (60 * (stepTimesS.length - 1)) / (stepTimesS.at(-1)! - stepTimesS[0]!);
  const { track } = analyseMotion(trap.spoil?.(recording, random) ?? recording);
  return track.points.map((point) => ({ point, trueSpm }));
}

describe("octave traps", { timeout: 300_000 }, () => {
  it.each(TRAPS)("simulation: $name is hardly ever halved or doubled, and then not said to be sure", (trap) => {
    let count = 0;
    let answered = 0;
    const wrong: string[] = [];
    let sure = 0;
    let sureWrong = 0;
    for (const placement of PLACEMENTS)
      for (let seed = 1; seed <= SEEDS; seed += 1)
        for (const { point, trueSpm } of pointsOf(trap, placement, seed)) {
          count += 1;
          if (point.stepRateSpm === null) continue;
          answered += 1;
          if (point.quality > 0.9) sure += 1;
          const ratio = point.stepRateSpm / trueSpm;
          if (ratio > 0.77 && ratio < 1.3) continue;
          wrong.push(`${placement} ${seed}: ${trueSpm.toFixed(0)} → ${point.stepRateSpm.toFixed(0)}`);
          if (point.quality > 0.9) sureWrong += 1;
        }
    expect(answered / count).toBeGreaterThanOrEqual(trap.answered);
    expect(wrong.length / count, wrong.join("; ")).toBeLessThan(trap.wrong ?? 0.01);
    expect(sureWrong / sure, wrong.join("; ")).toBeLessThanOrEqual(trap.sureWrong ?? 0.01);
  });

  it("a constant axis is named", () => {
    const { recording } = makeSyntheticMotion({
      seed: 5,
      placement: "waist",
      segments: [{ state: "running", durationS: 15, stepRateSpm: 165 }],
    });
    const codes = (one: MotionRecording) => analyseMotion(one).warnings.map((warning) => warning.code);
    expect(codes(recording)).toEqual([]);
    expect(codes(dead("accelYMps2")(recording))).toEqual(["axis-constant"]);
  });
});

const OTHERS: readonly { movement: OtherMovement; perMinute: readonly number[] }[] = [
  { movement: "cycling", perMinute: [60, 70, 80, 90] },
  { movement: "car", perMinute: [60, 80, 100, 130] },
  { movement: "rowing", perMinute: [20, 25, 30, 36] },
];

it.each(OTHERS)("simulation: $movement is hardly ever called running or walking", ({ movement, perMinute }) => {
  const states: Record<string, number> = { running: 0, walking: 0, standing: 0, unknown: 0 };
  for (const rate of perMinute)
    for (let seed = 1; seed <= SEEDS; seed += 1)
      for (const { state } of analyseMotion(makeOtherMotion({ seed, movement, perMinute: rate, durationS: 40 })).track
        .points)
        states[state]! += 1;
  const count = Object.values(states).reduce((sum, part) => sum + part, 0);
  expect(count).toBeGreaterThan(500);
  expect(states["running"]! / count).toBeLessThan(0.005);
  expect(states["walking"]! / count).toBeLessThan(0.02);
});
