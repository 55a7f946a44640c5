// Live against batch, against the truth, and against its own promises.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Placement } from "../synthetic/body-motion.ts";
import { makeSyntheticMotion, type SyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { analyseMotion } from "./analyse-motion.ts";
import { type LiveReading } from "./live-reading.ts";
import { createLiveSteps } from "./live-steps.ts";

const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];

/** Every new reading, in order. */
function readingsOf(made: SyntheticMotion): LiveReading[] {
  const { timeS, accelXMps2, accelYMps2, accelZMps2 } = made.recording;
  const live = createLiveSteps();
  const readings: LiveReading[] = [];
  for (let i = 0; i < timeS.length; i += 1) {
    live.push(timeS[i]!, accelXMps2[i]!, accelYMps2[i]!, accelZMps2[i]!);
    const reading = live.read();
    if (reading.updatedAtS !== null && reading.updatedAtS !== readings.at(-1)?.updatedAtS) readings.push(reading);
  }
  return readings;
}

test("property: live agrees with batch within 0.5 spm on the same samples", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...PLACEMENTS),
      fc.integer({ min: 1, max: 1e6 }),
      fc.integer({ min: 140, max: 205 }),
      fc.constantFrom(25, 60, 100),
      (placement, seed, stepRateSpm, sampleRateHz) => {
        const made = makeSyntheticMotion({
          seed,
          placement,
          sampleRateHz,
          segments: [{ state: "running", durationS: 20, stepRateSpm }],
        });
        const readings = readingsOf(made);
        const { points } = analyseMotion(made.recording).track;
        let compared = 0;
        for (const point of points) {
          // A point's window ends half a window after its centre; the live reading of that moment has seen the same samples.
          const halfS = point.timeS < 2.4 ? 2 : 2.5;
          const reading = readings.find((r) => Math.abs(r.updatedAtS! - (point.timeS + halfS)) < 0.03);
          if (reading === undefined || reading.stepRateSpm === null || point.stepRateSpm === null) continue;
          compared += 1;
          expect(Math.abs(reading.stepRateSpm - point.stepRateSpm)).toBeLessThanOrEqual(0.5);
        }
        expect(compared).toBeGreaterThanOrEqual(14);
      },
    ),
    { seed: 21, numRuns: 25 },
  );
});

describe.each(PLACEMENTS)("simulation: %s", (placement) => {
  const made = makeSyntheticMotion({
    seed: 31,
    placement,
    segments: [
      { state: "running", durationS: 40, stepRateSpm: 168 },
      { state: "standing", durationS: 15 },
      { state: "running", durationS: 25, stepRateSpm: 176 },
    ],
  });
  const readings = readingsOf(made);
  test("first answer within 5 s, then twice a second", () => {
    const first = readings.find((reading) => reading.stepRateSpm !== null)!;
    expect(first.updatedAtS).toBeLessThanOrEqual(5);
    expect(Math.abs(first.stepRateSpm! - 168)).toBeLessThan(4);
    const intervals = readings.slice(1).map((reading, i) => reading.updatedAtS! - readings[i]!.updatedAtS!);
    expect(Math.max(...intervals)).toBeLessThan(0.51);
  });
  test("stands when the runner stands, and starts again", () => {
    const at = (timeS: number): LiveReading => readings.find((reading) => reading.updatedAtS! >= timeS)!;
    expect(at(39).state).toBe("running");
    expect(at(47).state).toBe("standing");
    expect(at(47).stepRateSpm).toBeNull();
    expect(at(61).state).toBe("running");
    expect(at(47).stepCount).toBe(at(54).stepCount);
  });
  test("a stop is told within 2 s of the last step, wherever it falls between two readings", () => {
    for (let seed = 1; seed <= 6; seed += 1) {
      const stopS = 12 + 0.13 * seed;
      const stopped = makeSyntheticMotion({
        seed,
        placement,
        sampleRateHz: [25, 50, 100][seed % 3]!,
        segments: [
          { state: "running", durationS: stopS, stepRateSpm: 150 + 6 * seed },
          { state: "standing", durationS: 6 },
        ],
      });
      const late = readingsOf(stopped).filter((reading) => reading.updatedAtS! > stopS + 2);
      expect(late.length).toBeGreaterThan(6);
      expect(late.every((reading) => reading.state === "standing" && reading.stepRateSpm === null)).toBe(true);
    }
  });
  test("counts within 4 %, each step once, the last one recent", () => {
    const last = readings.at(-1)!;
    expect(Math.abs(last.stepCount / made.stepTimesS.length - 1)).toBeLessThan(0.04);
    expect(last.updatedAtS! - last.lastStepTimeS!).toBeLessThan(0.45);
    readings.slice(1).forEach((reading, i) => expect(reading.stepCount).toBeGreaterThanOrEqual(readings[i]!.stepCount));
  });
});
