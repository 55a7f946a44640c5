// The main bar: step rates and contacts over a grid of invented recordings whose truth is known.
import { describe, expect, test } from "vitest";
import { scoreContacts } from "../../../tests/score-contacts.ts";
import { type Placement } from "../synthetic/body-motion.ts";
import { type GaitSegment } from "../synthetic/gait-timeline.ts";
import { makeSyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { createRandom } from "../quantities/random.ts";
import { analyseMotion } from "./analyse-motion.ts";

const LONG = process.env["SPONDEE_LONG"] !== undefined;
const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];
const RATES = [140, 152, 164, 176, 188, 200];
const SAMPLE_RATES = [25, 50, 100];
const ASYMMETRIES = [0, 4, 8];

interface Outcome {
  readonly name: string;
  /** Mean of the running points against the true mean over the same stretch. */
  readonly errorSpm: number;
  readonly octaveErrors: number;
  readonly f1: number;
  readonly unanswered: number;
}

function run(
  placement: Placement,
  stepRateSpm: number,
  sampleRateHz: number,
  asymmetryPercent: number,
  seed: number,
): Outcome {
  const random = createRandom(seed);
  const durationS = LONG ? 60 : 16;
  const made = makeSyntheticMotion({
    seed,
    placement,
    sampleRateHz,
    asymmetryPercent,
    segments: [{ state: "running", durationS, stepRateSpm: stepRateSpm - 1, endStepRateSpm: stepRateSpm + 1 }],
    gravity: random.next() < 0.3 ? "removed" : "included",
    noiseMps2: 0.05 + 0.4 * random.next(),
    clipMps2: [160, 78.5, 39.2][random.below(3)]!,
    clockJitterShare: 0.15 * random.next(),
    duplicateShare: random.next() < 0.2 ? 0.03 : 0,
    dropOutsPerMinute: random.next() < 0.2 ? 2 : 0,
    turningRad: 0.6 * random.next(),
  });
  const analysis = analyseMotion(made.recording);
  const truth = (60 * (made.stepTimesS.length - 1)) / (made.stepTimesS.at(-1)! - made.stepTimesS[0]!);
  const rates = analysis.track.points.map((point) => point.stepRateSpm).filter((rate) => rate !== null);
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  return {
    name: `${placement} ${stepRateSpm} spm ${sampleRateHz} Hz ${asymmetryPercent} % seed ${seed}`,
    errorSpm: rates.length === 0 ? Infinity : mean - truth,
    octaveErrors: rates.filter((rate) => rate > 1.3 * truth || rate < 0.77 * truth).length,
    f1: scoreContacts(analysis.stepTimesS, made.stepTimesS, { toleranceS: 0.06, maxOffsetS: 0.25 }).f1,
    unanswered: analysis.track.points.length - rates.length,
  };
}

describe.each(PLACEMENTS)("simulation: running, sensor at the %s", (placement) => {
  const outcomes: Outcome[] = [];
  test("no octave error anywhere, mean rate within 1 spm in 98 %, nearly all answered", () => {
    let seed = 1000 * (1 + PLACEMENTS.indexOf(placement));
    for (const rate of RATES)
      for (const sampleRate of SAMPLE_RATES)
        for (const asymmetry of ASYMMETRIES) {
          seed += 1;
          outcomes.push(run(placement, rate, sampleRate, asymmetry, seed));
        }
    expect(outcomes.length).toBe(54); // 324 over the six placements
    expect(outcomes.filter((o) => o.octaveErrors > 0)).toEqual([]);
    const off = outcomes.filter((o) => !(Math.abs(o.errorSpm) <= 1));
    expect(off.length, JSON.stringify(off)).toBeLessThanOrEqual(1); // 2 % of 54
    const unanswered = outcomes.reduce((sum, o) => sum + o.unanswered, 0);
    expect(unanswered).toBeLessThanOrEqual(0.02 * 54 * 13);
  });
  test("contacts within 60 ms: F1 at least 0.98 at 50 Hz and more", () => {
    const fine = outcomes.filter((o) => !o.name.includes(" 25 Hz"));
    const mean = fine.reduce((sum, o) => sum + o.f1, 0) / fine.length;
    expect(mean, JSON.stringify(fine.filter((o) => o.f1 < 0.93))).toBeGreaterThanOrEqual(0.98);
    // One step found or lost at an end of 40 or so costs 0.012; no recording is far below.
    expect(fine.filter((o) => o.f1 < 0.93)).toEqual([]);
  });
});

test("simulation: fast running at the waist with unlike steps, where half the rate is a brisk walk's, is never halved", () => {
  for (let seed = 0; seed < (LONG ? 200 : 40); seed += 1) {
    const random = createRandom(seed);
    const stepRateSpm = 185 + 45 * random.next();
    const made = makeSyntheticMotion({
      seed: 5000 + seed,
      placement: seed % 3 === 2 ? "armband" : "waist",
      sampleRateHz: [20, 50, 100][seed % 3]!,
      asymmetryPercent: 12 * random.next(),
      clipMps2: [160, 39.2][seed % 2]!,
      segments: [{ state: "running", durationS: 12, stepRateSpm }],
    });
    for (const point of analyseMotion(made.recording).track.points) {
      if (point.stepRateSpm === null) continue;
      expect(
        Math.abs(point.stepRateSpm - stepRateSpm),
        `seed ${seed}, ${stepRateSpm} spm, ${point.state}`,
      ).toBeLessThan(12);
      expect(point.state).toBe("running");
    }
  }
});

describe("simulation: stops and walking breaks", () => {
  const segments: readonly GaitSegment[] = [
    { state: "running", durationS: 15, stepRateSpm: 165 },
    { state: "walking", durationS: 15, stepRateSpm: 108 },
    { state: "standing", durationS: 12 },
    { state: "running", durationS: 15, stepRateSpm: 172 },
  ];
  test.each(PLACEMENTS)("%s: every change of movement found within 3 s, rates right on both sides", (placement) => {
    for (let seed = 1; seed <= (LONG ? 40 : 8); seed += 1) {
      const made = makeSyntheticMotion({ seed, placement, sampleRateHz: [25, 50, 100][seed % 3]!, segments });
      const { track } = analyseMotion(made.recording);
      for (const segment of made.segments) {
        const inside = track.points.filter((p) => p.timeS > segment.startS + 3 && p.timeS < segment.endS - 3);
        expect(inside.length).toBeGreaterThan(4);
        for (const point of inside) {
          expect(point.state, `${placement} seed ${seed} at ${point.timeS} s`).toBe(segment.state);
          if (segment.stepRateSpm !== undefined)
            expect(Math.abs(point.stepRateSpm! - segment.stepRateSpm), `seed ${seed} at ${point.timeS}`).toBeLessThan(
              5,
            );
        }
      }
    }
  });
  test.each(PLACEMENTS)(
    "%s: no contact is placed while standing, and the count is right within 3 in 100",
    (placement) => {
      let found = 0;
      let real = 0;
      for (let seed = 1; seed <= 8; seed += 1) {
        const made = makeSyntheticMotion({ seed, placement, segments });
        const { stepTimesS } = analyseMotion(made.recording);
        const still = made.segments[2]!;
        expect(stepTimesS.filter((t) => t > still.startS + 2 && t < still.endS - 2).length).toBe(0);
        found += stepTimesS.length;
        real += made.stepTimesS.length;
      }
      expect(Math.abs(found / real - 1)).toBeLessThan(0.03);
    },
  );
});

describe("simulation: tempo ramps", () => {
  test.each(PLACEMENTS)(
    "%s: 150 to 190 spm in 40 s is followed within 2 spm of the steps in the window",
    (placement) => {
      const made = makeSyntheticMotion({
        seed: 77,
        placement,
        segments: [{ state: "running", durationS: 40, stepRateSpm: 150, endStepRateSpm: 190 }],
      });
      for (const point of analyseMotion(made.recording).track.points) {
        if (point.timeS < 3 || point.timeS > 37) continue;
        const near = made.stepTimesS.filter((t) => Math.abs(t - point.timeS) < 2);
        const truth = (60 * (near.length - 1)) / (near.at(-1)! - near[0]!);
        expect(Math.abs(point.stepRateSpm! - truth), `at ${point.timeS}`).toBeLessThan(2);
      }
    },
  );
});
