// Positions to speed and slope: how much a receiver is believed.
import { evidence, type Evidence } from "./evidence.ts";

export const positionNoiseM = evidence({
  id: "position-noise",
  value: 3,
  unit: "m",
  range: [0.5, 8],
  kind: "derived",
  source: {
    authors: "Gløersen et al.",
    year: 2018,
    title: "Frontiers in Physiology 9:1425",
    titleFrom: "description",
    doi: "10.3389/fphys.2018.01425",
    where: "abstract: third quartile of position error 5.29 m for a 1 Hz wrist receiver; about 3 m an axis",
  },
  note: "One axis of a receiver's position is taken as good to 3 m until the track itself tells more.",
});

export const accelerationNoise = evidence({
  id: "runner-acceleration-noise",
  value: 0.3,
  unit: "m²/s³",
  range: [0.1, 1],
  kind: "ours",
  note: "How quickly a runner changes speed and direction: smooths over about 2 seconds, and follows a bend of a track.",
});

export const outlierGate = evidence({
  id: "position-outlier-gate",
  value: 25,
  unit: "squared standard deviations",
  kind: "ours",
  note: "A position is only doubted beyond five standard deviations from where the runner should be.",
});

export const fastestRunnerMps = evidence({
  id: "fastest-runner",
  value: 8,
  unit: "m/s",
  kind: "ours",
  note: "A position that takes more than 8 m/s to reach is the receiver's fault: nobody trains at that for long.",
});

export const geolocationAccuracySigmas = evidence({
  id: "geolocation-accuracy-sigmas",
  value: 2.4477,
  unit: "standard deviations",
  kind: "standard",
  source: {
    authors: "World Wide Web Consortium",
    year: 2022,
    title: "Geolocation API",
    where: "coords.accuracy: metres at 95 % confidence; √(−2 ln 0.05) standard deviations of one axis",
  },
  note: "A phone's accuracy circle holds the place 95 times in 100.",
});

export const standingSpeedMps = evidence({
  id: "standing-speed",
  value: 0.7,
  unit: "m/s",
  kind: "ours",
  note: "Getting ahead by less than 0.7 m a second over ten seconds is standing: a slow walk is nearly twice that.",
});

export const walkRunSpeedMps = evidence({
  id: "walk-run-speed",
  value: 2,
  unit: "m/s",
  range: [1.9, 2.2],
  kind: "common-practice",
  note: "People change from walking to running at about 2 m/s.",
});

export const runningStepRateSpm = evidence({
  id: "running-step-rate",
  value: { certain: 140, least: 120 },
  unit: "spm",
  kind: "ours",
  note: "From 140 steps a minute it is running at any speed; from 120 it is when the speed says so.",
});

export const slopeSpanM = evidence({
  id: "slope-span",
  value: 100,
  unit: "m",
  kind: "ours",
  note: "Slope is the straight line through the elevations of the 100 m around: over less, it would be the receiver's noise.",
});

export const slopeMaxStandardError = evidence({
  id: "slope-max-standard-error",
  value: 0.01,
  unit: "1",
  kind: "ours",
  note: "A slope that is not known to 1 % is not shown.",
});

export const speedEvidence: readonly Evidence<unknown>[] = [
  positionNoiseM,
  accelerationNoise,
  outlierGate,
  fastestRunnerMps,
  geolocationAccuracySigmas,
  standingSpeedMps,
  walkRunSpeedMps,
  runningStepRateSpm,
  slopeSpanM,
  slopeMaxStandardError,
];
