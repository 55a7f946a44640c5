// Where running and walking share a rate, and feet that go nowhere: the right gait, or an open one with its rate.
import { describe, expect, it } from "vitest";
import { createRandom } from "../quantities/random.ts";
import { type Placement } from "../synthetic/body-motion.ts";
import { makeOtherMotion, type OtherMovement } from "../synthetic/other-motion.ts";
import { makeSyntheticMotion } from "../synthetic/synthetic-motion.ts";
import { analyseMotion } from "./analyse-motion.ts";
import { NO_RATE_SENTENCE, type RatePoint } from "./rate-track.ts";

const SEEDS = process.env["SPONDEE_LONG"] === undefined ? 4 : 60;
const PLACEMENTS: readonly Placement[] = ["waist", "pocket", "hand", "armband", "wrist", "ankle"];

type Gait = "running" | "walking";

function pointsOf(state: Gait, placement: Placement, seed: number, low: number, high: number): readonly RatePoint[] {
  const random = createRandom(3 * seed + 1);
  return analyseMotion(
    makeSyntheticMotion({
      seed: seed * 41 + PLACEMENTS.indexOf(placement) * 7000,
      placement,
      sampleRateHz: [25, 50, 100][seed % 3]!,
      segments: [{ state, durationS: 20, stepRateSpm: low + (high - low) * random.next() }],
    }).recording,
  ).track.points;
}

interface Row {
  readonly gait: Gait;
  readonly low: number;
  readonly high: number;
  /** Most points of the other gait, and fewest of the right one, as shares of those with a rate. */
  readonly wrong: number;
  readonly right: number;
}

const ROWS: readonly Row[] = [
  { gait: "walking", low: 100, high: 118, wrong: 0, right: 0.85 },
  { gait: "walking", low: 120, high: 134, wrong: 0.01, right: 0.55 },
  // Hardly anybody walks like that; at an ankle it is as strong as a slow run.
  { gait: "walking", low: 134, high: 142, wrong: 0.1, right: 0.15 },
  { gait: "running", low: 118, high: 135, wrong: 0.06, right: 0.2 },
  { gait: "running", low: 138, high: 150, wrong: 0.01, right: 0.75 },
  { gait: "running", low: 150, high: 200, wrong: 0, right: 0.97 },
];

describe("running or walking", { timeout: 300_000 }, () => {
  it.each(ROWS)("simulation: $gait at $low to $high a minute keeps its name, or its rate only", (row) => {
    let rated = 0;
    let right = 0;
    let wrong = 0;
    for (const placement of PLACEMENTS)
      for (let seed = 1; seed <= SEEDS; seed += 1)
        for (const point of pointsOf(row.gait, placement, seed, row.low, row.high)) {
          if (point.stepRateSpm === null) continue;
          rated += 1;
          if (point.state === row.gait) right += 1;
          else if (point.state === "unknown") expect(point.reason).toMatch(/running-or-walking|no-flight/);
          else wrong += 1;
        }
    expect(wrong / rated).toBeLessThanOrEqual(row.wrong);
    expect(right / rated).toBeGreaterThanOrEqual(row.right);
  });

  it("a window whose gait is open keeps its rate, is not running, and says why", () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      const { windows } = analyseMotion(
        makeSyntheticMotion({
          seed,
          placement: "wrist",
          segments: [{ state: "walking", durationS: 20, stepRateSpm: 132 }],
        }).recording,
      );
      const open = windows.find(({ state, stepRateSpm }) => state === "unknown" && stepRateSpm !== null);
      if (open === undefined) continue;
      expect(Math.abs(open.stepRateSpm! - 132)).toBeLessThan(3);
      expect(open.reason).toBe(NO_RATE_SENTENCE["running-or-walking"]);
      return;
    }
    expect.unreachable("no wrist at 132 a minute was open");
  });
});

function othersOf(
  movement: OtherMovement,
  rates: readonly number[],
): readonly { point: RatePoint; perMinute: number }[] {
  return rates.flatMap((perMinute) =>
    Array.from({ length: SEEDS }, (_, seed) =>
      analyseMotion(
        makeOtherMotion({ seed: seed + 1, movement, perMinute, durationS: 25, sampleRateHz: [25, 50, 100][seed % 3]! }),
      ).track.points.map((point) => ({ point, perMinute })),
    ).flat(),
  );
}

describe("feet that go nowhere, and no feet", { timeout: 300_000 }, () => {
  it("simulation: stepping on the spot keeps its rate, never half of it, and is mostly not called running", () => {
    const points = othersOf("stepping-on-the-spot", [150, 160, 170, 180]);
    const rated = points.filter(({ point }) => point.stepRateSpm !== null);
    expect(rated.length / points.length).toBeGreaterThan(0.6);
    const off = rated.filter(({ point, perMinute }) => Math.abs(point.stepRateSpm! / perMinute - 1) > 0.06);
    expect(off.length / rated.length).toBeLessThanOrEqual(0.01);
    const running = rated.filter(({ point }) => point.state === "running");
    expect(running.length / rated.length).toBeLessThan(0.35);
  });
  it.each([
    ["stairs", [75, 90, 105]],
    ["handling", [10, 20, 40]],
    ["cycling", [60, 75, 90]],
  ] as const)("simulation: %s is never called running", (movement, rates) => {
    const points = othersOf(movement, rates);
    expect(points.length).toBeGreaterThan(200);
    expect(points.filter(({ point }) => point.state === "running")).toEqual([]);
  });
});
