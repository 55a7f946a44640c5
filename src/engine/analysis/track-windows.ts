// Ten-second windows of a track: step rate from its cadence, speed and slope from its speed track, and what the runner did.
import { fastestRunnerMps, runningStepRateSpm, walkRunSpeedMps } from "../evidence/speed.ts";
import type { TrackRecording } from "../recordings/recording.ts";
import type { MovementState, RateWindow } from "../recordings/window.ts";
import type { SpeedTrack } from "../speed/speed-track.ts";
import { cueOfWindow } from "./window-cue.ts";
import { createWindowSpeed, type WindowSpeed } from "./window-speed.ts";

const LENGTH_S = 10;
/** A rest at the end of a recording is a window of its own from here on. */
const SHORTEST_S = 5;
/** A sensor's value holds for this long after it was written. */
const HOLD_S = 12;
/** Values further than this from the window's median are another movement, or a fault. */
const TRIM_SHARE = 0.1;
/** Accuracy that a cadence sensor is believed to have. */
const SENSOR_ERROR_SPM = 0.8;

/**
 * Windows of 10 s, end to end from the first sample (a rest under 5 s is dropped). The step rate is the mean of the
 * cadence values within 10 % of their median. Quality is the chance that it lies within 2 spm of the truth, with
 * the scatter of the values, the coarseness of a doubled whole number and the sensor's own error, times the share of
 * the window that has values. State: by step rate and speed, whichever are known.
 */
export function trackWindows(recording: TrackRecording, speed: SpeedTrack): RateWindow[] {
  const { timeS } = recording;
  const durationS = timeS.at(-1) ?? 0;
  const speedOf = createWindowSpeed(speed);
  const windows: RateWindow[] = [];
  let first = 0;
  for (let k = 0; k === 0 || durationS - k * LENGTH_S >= SHORTEST_S; k += 1) {
    const startS = k * LENGTH_S;
    const endS = Math.min(startS + LENGTH_S, durationS);
    while (first < timeS.length && timeS[first]! < startS) first += 1;
    let end = first;
    while (end < timeS.length && (timeS[end]! < endS || end === first)) end += 1;
    const held = timeS[first] !== undefined && timeS[first]! < endS ? [first, end] : lastHeld(timeS, first, startS);
    const cadence = cadenceOf(recording, held[0]!, held[1]!);
    const at = speedOf(startS, endS);
    const { state, reason } = stateOf(cadence, at);
    const moving = state === "running" || state === "walking";
    windows.push({
      startS,
      endS,
      stepRateSpm: moving ? cadence.stepRateSpm : null,
      speedMps: at.speedMps,
      slope: at.slope,
      heartRateBpm: meanOf(recording.heartRateBpm, held[0]!, held[1]!),
      quality: moving && cadence.stepRateSpm !== null ? cadence.quality : 0,
      state,
      cue: cueOfWindow(recording.cueBlocks, startS, endS),
      ...(reason === undefined ? {} : { reason }),
    });
    if (endS >= durationS) break;
  }
  return windows;
}

/** No sample inside: the one before still holds for a while. */
function lastHeld(timeS: Float64Array, first: number, startS: number): [number, number] {
  const last = first - 1;
  return last >= 0 && startS - timeS[last]! <= HOLD_S ? [last, last + 1] : [first, first];
}

interface Cadence {
  readonly stepRateSpm: number | null;
  readonly quality: number;
  /** The sensor says that the runner stood. */
  readonly standing: boolean;
}

function cadenceOf(recording: TrackRecording, from: number, to: number): Cadence {
  const values = [...recording.stepRateSpm.subarray(from, to)].filter((value) => !Number.isNaN(value));
  const moving = values.filter((value) => value > 0).sort((a, b) => a - b);
  if (moving.length === 0) return { stepRateSpm: null, quality: 0, standing: values.length > 0 };
  if (moving.length * 2 < values.length) return { stepRateSpm: null, quality: 0, standing: true };
  const median = moving[Math.floor(moving.length / 2)]!;
  const alike = moving.filter((value) => Math.abs(value - median) <= TRIM_SHARE * median);
  const mean = alike.reduce((sum, value) => sum + value, 0) / alike.length;
  const variance =
    alike.length > 1 ? alike.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (alike.length - 1) : 0;
  const coarseness = recording.feetCounted === "one" ? 2 : 1;
  const error = Math.sqrt(variance / alike.length + coarseness ** 2 / 12 + SENSOR_ERROR_SPM ** 2);
  return {
    stepRateSpm: mean,
    quality: chanceWithin(2, error) * (alike.length / Math.max(1, to - from)),
    standing: false,
  };
}

function stateOf(cadence: Cadence, at: WindowSpeed): { state: MovementState; reason?: string } {
  if (cadence.standing || (at.movingShare !== null && at.movingShare < 0.5))
    return { state: "standing", reason: "standing" };
  if (at.speedMps !== null && at.speedMps > fastestRunnerMps.value)
    return { state: "unknown", reason: "too fast for running" };
  const { stepRateSpm } = cadence;
  const fast = at.speedMps !== null && at.speedMps >= walkRunSpeedMps.value;
  if (stepRateSpm === null) {
    const reason = "no cadence in the recording here";
    if (at.speedMps === null) return { state: "unknown", reason: "neither cadence nor speed here" };
    return { state: fast ? "running" : "walking", reason };
  }
  const { certain, least } = runningStepRateSpm.value;
  const running = stepRateSpm >= certain || (fast && stepRateSpm >= least);
  if (fast && !running) return { state: "unknown", reason: "a cadence too low for this speed" };
  return { state: running ? "running" : "walking" };
}

function meanOf(values: Float64Array, from: number, to: number): number | null {
  const known = [...values.subarray(from, to)].filter((value) => value > 0);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}

/** P(|X| < limit) of a normal X with mean 0: Pólya's approximation (1945), within 0.003. */
function chanceWithin(limit: number, standardDeviation: number): number {
  return Math.sqrt(1 - Math.exp((-2 / Math.PI) * (limit / standardDeviation) ** 2));
}
