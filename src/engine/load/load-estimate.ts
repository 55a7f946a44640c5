// The load estimate as a coach sees it: from measured times on level ground, with its known bias, per step and per kilometre.
import { LEVEL_GROUND_LIMIT, PLATE_CHECK, SINE_MODEL_BIAS } from "../evidence/load.ts";
import { fail, succeed, type Problem, type Result } from "../quantities/problem.ts";
import type { Interval } from "../quantities/uncertain.ts";
import { stepsPerKm } from "../quantities/units.ts";
import { springMass, type SpringMass, type SpringMassInput } from "./spring-mass.ts";

export interface LoadMeasurement extends SpringMassInput {
  /** Where the times come from: only these are accepted. */
  readonly timesFrom: "video" | "force-plate";
  /** Rise over run of the ground. */
  readonly slope: number;
}

export interface LoadEstimate {
  readonly springMass: SpringMass;
  readonly stepsPerKm: number;
  /** Peak force summed over the steps of a kilometre, body weights. */
  readonly peakForcePerKmBodyWeights: number;
  /** What plates would probably have shown: the estimate with the bias of the model taken off, 95 % of runners. */
  readonly likelyPeakForceN: Interval;
  readonly modelBiasPercent: { readonly mean: number; readonly sd: number };
  readonly caution: string;
}

const plates = PLATE_CHECK.value;
const platesModel = springMass({ ...plates, legLengthM: 0.93, speedMps: 3 });
const whole = (value: number): string => value.toFixed(0);
const centimetres = (metres: number): string => (100 * metres).toFixed(1);

/** Stands beside every load figure, with what open recordings say of the model. */
export const LOAD_CAUTION = [
  "An estimate from a simple spring model, good for comparing a runner with themselves.",
  `Its peak force reads about ${Math.abs(SINE_MODEL_BIAS.value.meanPercent)} % (SD ${SINE_MODEL_BIAS.value.sdPercent} %) below force plates, by an open table of 37 runners;`,
  `on an open treadmill recording (${plates.stepCount} steps, contact ${plates.contactTimeS} s, flight ${plates.flightTimeS} s) plates say ${whole(plates.peakForceN)} N and a drop of ${centimetres(plates.dropM)} cm, the model ${whole(platesModel.peakForceN)} N and ${centimetres(platesModel.comDropM)} cm.`,
  "It says nothing certain about injury; pain is a matter for a clinician.",
].join(" ");

interface Limit {
  readonly field: keyof LoadMeasurement & keyof SpringMassInput;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

/** Plausible ranges of running (our own limits, wide around measured times of 0.11 and 0.27 s). */
const LIMITS: readonly Limit[] = [
  { field: "massKg", low: 25, high: 200, unit: "kg" },
  { field: "legLengthM", low: 0.5, high: 1.3, unit: "m" },
  { field: "speedMps", low: 1.5, high: 10, unit: "m/s" },
  { field: "contactTimeS", low: 0.08, high: 0.45, unit: "s" },
  { field: "flightTimeS", low: 0.01, high: 0.3, unit: "s" },
];

/** Estimates load, or says which measurement stands in the way (all problems at once). */
export function loadEstimate(measurement: LoadMeasurement): Result<LoadEstimate> {
  const problems: Problem[] = LIMITS.flatMap(({ field, low, high, unit }) => {
    const value = measurement[field];
    if (value !== undefined && value >= low && value <= high) return [];
    return [
      {
        code: "load-implausible",
        where: { field },
        got: `${value} ${unit}`,
        expected: `${low} to ${high} ${unit}`,
        remedy: "Measure again; contact and flight time come from video frames or a force plate.",
      },
    ];
  });
  if (!(Math.abs(measurement.slope) <= LEVEL_GROUND_LIMIT.value))
    problems.push({
      code: "load-not-level",
      where: { field: "slope" },
      got: `${(100 * measurement.slope).toFixed(1)} %`,
      expected: "level ground, within 2 %",
      remedy: "Film on level ground: the model does not hold on slopes.",
    });
  if ((measurement.speedMps * measurement.contactTimeS) / 2 >= measurement.legLengthM)
    problems.push({
      code: "load-geometry",
      where: { field: "contactTimeS" },
      got: `${measurement.contactTimeS} s at ${measurement.speedMps} m/s`,
      expected: "a contact shorter than the leg can reach",
      remedy: "Check speed, contact time and leg length.",
    });
  if (problems.length > 0) return fail(...problems);
  const { timesFrom: _, slope: __, ...input } = measurement;
  const model = springMass(input);
  const steps = stepsPerKm(model.stepRateSpm, measurement.speedMps);
  const { meanPercent, sdPercent } = SINE_MODEL_BIAS.value;
  const onPlates = (biasPercent: number): number => model.peakForceN / (1 + biasPercent / 100);
  return succeed({
    springMass: model,
    stepsPerKm: steps,
    peakForcePerKmBodyWeights: steps * model.peakForceBodyWeights,
    likelyPeakForceN: { low: onPlates(meanPercent + 1.96 * sdPercent), high: onPlates(meanPercent - 1.96 * sdPercent) },
    modelBiasPercent: { mean: meanPercent, sd: sdPercent },
    caution: LOAD_CAUTION,
  });
}
