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

export const stepsEvidence: readonly Evidence<unknown>[] = [
  runningRateRange,
  runningRateTypical,
  walkingRateRange,
  walkingRateTypical,
  movementStrength,
];
