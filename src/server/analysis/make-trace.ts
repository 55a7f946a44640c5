// The lines of the recording screen: sample by sample for a track, window by window for motion and sound.
import type { Analysis } from "../../engine/analysis/analysis.ts";
import { stepLengthM } from "../../engine/quantities/units.ts";
import type { Recording, TrackRecording } from "../../engine/recordings/recording.ts";
import { speedOfTrack } from "../../engine/speed/speed-track.ts";

export interface Trace {
  readonly timeS: readonly number[];
  readonly stepRateSpm: readonly (number | null)[];
  readonly speedMps: readonly (number | null)[];
  readonly slope: readonly (number | null)[];
  readonly stepLengthM: readonly (number | null)[];
  readonly heartRateBpm: readonly (number | null)[];
}

export function makeTrace(recording: Recording, analysis: Analysis): Trace {
  return recording.kind === "gpx" || recording.kind === "csv-track" ? trackTrace(recording) : windowTrace(analysis);
}

function trackTrace(recording: TrackRecording): Trace {
  const speed = speedOfTrack(recording);
  const rates = listOf(recording.stepRateSpm).map((rate) => (rate === 0 ? null : rate));
  const speeds = listOf(speed.speedMps);
  return {
    timeS: Array.from(recording.timeS, (value) => round(value, 3)),
    stepRateSpm: rates,
    speedMps: speeds,
    slope: listOf(speed.slope),
    stepLengthM: rates.map((rate, index) => lengthOf(speeds[index] ?? null, rate)),
    heartRateBpm: listOf(recording.heartRateBpm),
  };
}

function windowTrace(analysis: Analysis): Trace {
  const { windows } = analysis;
  return {
    timeS: windows.map((window) => round((window.startS + window.endS) / 2, 3)),
    stepRateSpm: windows.map((window) => window.stepRateSpm),
    speedMps: windows.map((window) => window.speedMps),
    slope: windows.map((window) => window.slope),
    stepLengthM: windows.map((window) => lengthOf(window.speedMps, window.stepRateSpm)),
    heartRateBpm: windows.map((window) => window.heartRateBpm),
  };
}

function lengthOf(speedMps: number | null, stepRateSpm: number | null): number | null {
  return speedMps === null || stepRateSpm === null || stepRateSpm <= 0
    ? null
    : round(stepLengthM(speedMps, stepRateSpm), 4);
}

/** NaN, which JSON cannot say, becomes null. Four decimals are more than any sensor has. */
function listOf(values: ArrayLike<number>): (number | null)[] {
  return Array.from(values, (value) => (Number.isFinite(value) ? round(value, 4) : null));
}

function round(value: number, decimals: number): number {
  return Math.round(value * 10 ** decimals) / 10 ** decimals;
}

/** At most so many points: each bucket keeps its first sample and its extremes of step rate, so that peaks stay visible. */
export function thinTrace(trace: Trace, maxPoints: number): Trace {
  const count = trace.timeS.length;
  if (count <= maxPoints) return trace;
  const bucketCount = Math.max(1, Math.floor(maxPoints / 3));
  const kept = new Set<number>([count - 1]);
  for (let bucket = 0; bucket < bucketCount; bucket += 1) {
    const from = Math.floor((bucket * count) / bucketCount);
    const to = Math.floor(((bucket + 1) * count) / bucketCount);
    kept.add(from);
    let low = from;
    let high = from;
    for (let index = from; index < to; index += 1) {
      const value = trace.stepRateSpm[index];
      if (value === null || value === undefined) continue;
      if (value < (trace.stepRateSpm[low] ?? Infinity)) low = index;
      if (value > (trace.stepRateSpm[high] ?? -Infinity)) high = index;
    }
    kept.add(low).add(high);
  }
  const indices = [...kept].sort((a, b) => a - b).slice(0, maxPoints);
  const pick = <T>(values: readonly T[]): T[] =>
    indices.map((index) => values[index]).filter((value) => value !== undefined);
  return {
    timeS: pick(trace.timeS),
    stepRateSpm: pick(trace.stepRateSpm),
    speedMps: pick(trace.speedMps),
    slope: pick(trace.slope),
    stepLengthM: pick(trace.stepLengthM),
    heartRateBpm: pick(trace.heartRateBpm),
  };
}
