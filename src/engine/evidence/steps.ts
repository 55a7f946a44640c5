// What is known of step rates and of the strength of running and walking, as the step detector uses it.
import { type Evidence, evidence } from "./evidence.ts";

export const runningRateRange = evidence<readonly [number, number]>({
  id: "running-rate-range",
  value: [110, 240],
  unit: "spm",
  kind: "ours",
  note: "Step rates that can be running at all: a slow shuffle to a sprint. Nothing outside is ever reported as running.",
});

export const runningRateTypical = evidence({
  id: "running-rate-typical",
  value: { meanSpm: 170, spreadSpm: 22 },
  unit: "spm",
  kind: "ours",
  note: "Where running step rates usually are. A weak preference: it only decides between rates that fit a recording equally well.",
});

export const walkingRateRange = evidence<readonly [number, number]>({
  id: "walking-rate-range",
  value: [60, 150],
  unit: "spm",
  kind: "ours",
  note: "Step rates that can be walking, from a stroll to race walking's lower end.",
});

export const walkingRateTypical = evidence({
  id: "walking-rate-typical",
  value: { meanSpm: 108, spreadSpm: 15 },
  unit: "spm",
  kind: "common-practice",
  note: "Comfortable walking is about 100 to 120 steps a minute. A weak preference, as for running.",
});

/**
 * Movement acceleration (root mean square over a few seconds, m/s²) as logarithmic mean and spread, where both feet look
 * alike to the sensor and where they do not (a limb). Physics sets the scale: with a flight phase the trunk feels about
 * one g of swing, whatever the rate; walking never leaves the ground, and the same way up and down at another rate takes an
 * acceleration that goes with the square of the rate. Above the reference rate walking's is held level, so that a slow
 * runner is not taken for a brisk walker.
 */
export const movementStrength = evidence({
  id: "movement-strength",
  value: {
    runningAlike: { typicalMps2: 11, logSpread: 0.4 },
    runningUnlike: { typicalMps2: 15, logSpread: 0.5 },
    walkingAlike: { typicalMps2: 3.5, logSpread: 0.5 },
    walkingUnlike: { typicalMps2: 5, logSpread: 0.6 },
    walkingReferenceSpm: 105,
    standing: { typicalMps2: 0.12, logSpread: 0.9 },
  },
  unit: "m/s²",
  kind: "ours",
  note: "How strongly running, walking (at the reference rate and above) and standing shake a sensor. Wide on purpose: phones sit anywhere, some stop at 2 g.",
});

export const softSteps = evidence({
  id: "soft-steps",
  value: { lowSpm: 150, highSpm: 190, priceNats: 3 },
  unit: "spm",
  kind: "ours",
  note: "Steps at a running rate without a flight, as soft as walking: the beat learned on the spot. Rare, so it costs; without it half the rate would be taken for a stroll.",
});

/**
 * What repeats with every step (root mean square, m/s²), as logarithmic mean and spread. A body in flight falls freely, so
 * with a contact of c steps its up and down is g·√(π²/(8c) − 1) for a half-sine force: 6.5 m/s² at c = 0.86, 10 at 0.6,
 * at any rate. Walking never leaves the ground: the same way up and down at another rate takes the square of the rate.
 * Where the two steps differ much (a limb), its own swing adds to both; given for no difference and for nothing but it.
 */
export const stepBounce = evidence({
  id: "step-bounce",
  value: {
    running: { alikeMps2: 8.5, unlikeMps2: 12, logSpreadAlike: 0.25, logSpreadUnlike: 0.5 },
    walking: { alikeMps2: 2.8, unlikeMps2: 6, logSpreadAlike: 0.25, logSpreadUnlike: 0.5 },
    walkingReferenceSpm: 105,
  },
  unit: "m/s²",
  kind: "ours",
  note: "How strongly each step of running and of walking (at the reference rate) lifts and drops a sensor. It tells them apart where both have the same rate.",
});

export const gaitByRate = evidence({
  id: "gait-by-rate",
  value: { evenSpm: 132, spmPerNat: 6, leastNats: -1, mostNats: 2 },
  unit: "spm",
  kind: "ours",
  note: "Where running and walking share a rate: above about 140 steps a minute hardly anybody walks, while running at 120 to 130 is no rarity among beginners. Never enough to call it walking without the bounce.",
});

export const stepsEvidence: readonly Evidence<unknown>[] = [
  runningRateRange,
  runningRateTypical,
  walkingRateRange,
  walkingRateTypical,
  movementStrength,
  softSteps,
  stepBounce,
  gaitByRate,
];
