// Constants of the load estimates, and the published changes of load that are shown beside them.
import { evidence, type Evidence } from "./evidence.ts";

/** How far the sine-wave peak force is from force plates. */
export const SINE_MODEL_BIAS = evidence({
  id: "sine-model-bias",
  value: { meanPercent: -9.2, sdPercent: 3.7 },
  unit: "% of the measured peak force",
  kind: "derived",
  source: {
    authors: "Alcantara, Day, Hahn & Grabowski",
    year: 2021,
    title: "Sacral acceleration can predict whole-body kinetics and stride kinematics across running speeds",
    titleFrom: "memory",
    where:
      "PeerJ 11199, open data table: 87 rows, 37 runners, 3.8 to 5.4 m/s; our arithmetic, authors and title from memory",
  },
  note: "The sine-wave estimate of peak force reads about 9 % too low, give or take 4 %. It is good for comparing a runner with themselves, not for a true number.",
});

/** One open recording on a treadmill with force plates: what the plates say, and the model from the same contact and flight times. */
export const PLATE_CHECK = evidence({
  id: "plate-check",
  value: {
    stepCount: 29,
    massKg: 82.7,
    contactTimeS: 0.249,
    flightTimeS: 0.092,
    peakForceN: 1923,
    dropM: 0.0562,
  },
  unit: "kg, s, N, m",
  kind: "derived",
  source: {
    authors: "open recording johnjdavisiv/demo-force-processing",
    year: 2026,
    title: "Ten seconds of running on a treadmill with two force plates, 2400 Hz",
    titleFrom: "description",
    where:
      "vertical force, both plates summed; looked at in 2026; our arithmetic, made again by npm run check:open-data",
  },
  note: "On this recording the model's drop agrees with the plates within a millimetre, and its peak force is 9 % too low.",
});

/** Leg stiffness over stride frequency at one speed. */
export const LEG_STIFFNESS_EXPONENT = evidence({
  id: "leg-stiffness-exponent",
  value: 1.389,
  unit: "1",
  kind: "derived",
  source: {
    authors: "Farley & Gonzalez",
    year: 1996,
    title: "Leg stiffness and stride frequency in human running",
    where:
      "J Biomech 29(2):181-186, abstract: 7.0 to 16.3 kN/m from -26 % to +36 % of the preferred stride frequency at 2.5 m/s",
  },
  note: "A quicker step at the same speed goes with a stiffer leg: about +7 % at +5 % step rate. From two end points only.",
});

export const LEG_LENGTH_SHARE = evidence({
  id: "leg-length-share",
  value: 0.53,
  unit: "share of body height",
  range: [0.52, 0.53],
  kind: "published",
  source: {
    authors: "Winter, after Drillis & Contini",
    year: 2005,
    title: "Biomechanics and Motor Control of Human Movement",
    titleFrom: "memory",
    where: "second hand; a measured set of 97 runners gives 0.523 (García-Pinillos 2020, abstract)",
  },
  note: "Leg length is about 0.53 of height; measure it when stiffness matters.",
});

/** Exponents of the damage index: an assumption, always shown. */
export const DAMAGE_EXPONENTS = evidence({
  id: "damage-exponents",
  value: { impulse: 1, bone: 6.6, tendon: 9 },
  unit: "1",
  range: [1, 9],
  kind: "from-memory",
  source: {
    authors: "Edwards",
    year: 2018,
    title: "Modeling overuse injuries in sport as a mechanical fatigue phenomenon",
    titleFrom: "memory",
    where:
      "Exerc Sport Sci Rev 46:224-231 says that size matters far more than number; the exponents themselves are remembered",
  },
  note: "How much harder steps count than more steps: nobody knows it for one runner. Shown as an assumption.",
});

/** Closed forms hold on level ground only. */
export const LEVEL_GROUND_LIMIT = evidence({
  id: "level-ground-limit",
  value: 0.02,
  unit: "rise over run",
  kind: "published",
  source: {
    authors: "Meyer, Falbriard, Aminian & Millet",
    year: 2023,
    title: "Spring-mass stiffness from contact and flight times on slopes",
    titleFrom: "memory",
    where:
      "Int J Sports Med 44:673-679, abstract: the temporal method is not valid on inclines; the limit of 2 % is ours",
  },
  note: "No load estimate on slopes.",
});

/** Measured running cost over slope. */
export const RUNNING_COST = evidence({
  id: "running-cost",
  value: [155.4, -30.4, -43.3, 46.3, 19.5, 3.6],
  unit: "J/(kg m), coefficients of slope from the fifth power down",
  range: [-0.45, 0.45],
  kind: "published",
  source: {
    authors: "Minetti, Moia, Roi, Susta & Ferretti",
    year: 2002,
    title: "Energy cost of walking and running at extreme uphill and downhill slopes",
    titleFrom: "memory",
    where: "J Appl Physiol 93:1039-1046; the polynomial second hand, five independent sources agree",
  },
  note: "Running uphill costs about 5 % more for each 1 % of slope.",
});

export interface PublishedLoadChange {
  readonly study: string;
  readonly what: string;
  /** Change of step rate in the study, percent; null where only a step-length change is known. */
  readonly stepRateChangePercent: number | null;
  readonly perStepPercent: number;
  readonly perKilometrePercent: number;
  /** Whether the per-distance figure was reported or worked out from the per-step one. */
  readonly perKilometreIs: "reported" | "derived";
}

/** Per step and per distance, side by side: less load a step, more steps. */
export const PUBLISHED_LOAD_CHANGES = evidence<readonly PublishedLoadChange[]>({
  id: "published-load-changes",
  value: [
    {
      study: "Willy et al. 2016, 30 runners, eight sessions in the field",
      what: "work absorbed at the knee",
      stepRateChangePercent: 8.6,
      perStepPercent: -26.9,
      perKilometrePercent: -21.1,
      perKilometreIs: "reported",
    },
    {
      study: "Willson et al. 2014, 23 women, steps at least 10 % shorter at 3.7 m/s",
      what: "stress behind the kneecap",
      stepRateChangePercent: null,
      perStepPercent: -22.2,
      perKilometrePercent: -7.5,
      perKilometreIs: "reported",
    },
    {
      study: "Lenhart et al. 2014, 30 adults on a treadmill",
      what: "peak force behind the kneecap",
      stepRateChangePercent: 10,
      perStepPercent: -14,
      perKilometrePercent: -5.4,
      perKilometreIs: "derived",
    },
  ],
  unit: "% change",
  kind: "published",
  source: {
    authors: "Willy et al.; Willson et al.; Lenhart et al.",
    year: 2016,
    title: "Three studies with load per step and per distance",
    titleFrom: "description",
    where:
      "abstracts: Scand J Med Sci Sports 26(2):197-205; Clin Biomech 29:243-247 (per mile); Med Sci Sports Exerc 46(3):557-564",
  },
  note: "Group averages. The three differ because the loads and the step changes differ: in the second study the steps were really 13 to 16 % shorter.",
});

export const loadEvidence: readonly Evidence<unknown>[] = [
  SINE_MODEL_BIAS,
  PLATE_CHECK,
  LEG_STIFFNESS_EXPONENT,
  LEG_LENGTH_SHARE,
  DAMAGE_EXPONENTS,
  LEVEL_GROUND_LIMIT,
  RUNNING_COST,
  PUBLISHED_LOAD_CHANGES,
];
