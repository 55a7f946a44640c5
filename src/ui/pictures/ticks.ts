// Axis ticks that never collide: the finest round step whose labels still have room.
import {
  paceSPerKm,
  paceSPerMile,
  METRES_PER_MILE,
  speedFromPaceSPerKm,
  kmhToMps,
  mpsToKmh,
} from "../../engine/quantities/units.ts";
import type { SpeedUnit } from "../words/format.ts";

export interface Tick {
  /** In the axis' own unit. */
  readonly value: number;
  /** Pixels from the picture's left or top edge. */
  readonly position: number;
}

const ROUND_STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;

/** Round values of a linear axis, at least `minGapPx` apart. `place` maps value to pixels. */
export function linearTicks(low: number, high: number, place: (value: number) => number, minGapPx: number): Tick[] {
  for (const step of ROUND_STEPS) {
    const ticks = multiples(low, high, step).map((value) => ({ value, position: place(value) }));
    if (farEnoughApart(ticks, minGapPx)) return ticks;
  }
  return [];
}

const PACE_STEPS_S = [5, 10, 15, 30, 60, 120, 300] as const;
const KMH_STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10] as const;

/** Ticks of a speed axis at round paces (or round km/h); `value` is the speed in m/s. Paces crowd towards the slow end, so the closest pair decides. */
export function speedTicks(
  lowMps: number,
  highMps: number,
  place: (speedMps: number) => number,
  minGapPx: number,
  unit: SpeedUnit,
): Tick[] {
  const steps = unit === "km-per-h" ? KMH_STEPS : PACE_STEPS_S;
  for (const step of steps) {
    const ticks = roundSpeeds(lowMps, highMps, step, unit)
      .map((value) => ({ value, position: place(value) }))
      .sort((a, b) => a.position - b.position);
    if (farEnoughApart(ticks, minGapPx)) return ticks;
  }
  return [];
}

function roundSpeeds(lowMps: number, highMps: number, step: number, unit: SpeedUnit): number[] {
  if (unit === "km-per-h") return multiples(mpsToKmh(lowMps), mpsToKmh(highMps), step).map(kmhToMps);
  if (unit === "min-per-km") return multiples(paceSPerKm(highMps), paceSPerKm(lowMps), step).map(speedFromPaceSPerKm);
  return multiples(paceSPerMile(highMps), paceSPerMile(lowMps), step).map((paceS) => METRES_PER_MILE / paceS);
}

/** Multiples of `step` in [low, high], without the dust of repeated addition. */
function multiples(low: number, high: number, step: number): number[] {
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  const values: number[] = [];
  for (let k = first; k <= last; k += 1) values.push(Number((k * step).toFixed(6)));
  return values;
}

function farEnoughApart(ticks: readonly Tick[], minGapPx: number): boolean {
  return ticks.every((tick, i) => {
    const before = ticks[i - 1];
    return before === undefined || Math.abs(tick.position - before.position) >= minGapPx;
  });
}

/** Moves labels apart so that neighbours are at least `gapPx` from each other, inside [low, high], keeping their order. */
export function spreadLabels(wanted: readonly number[], gapPx: number, low: number, high: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const placed: number[] = Array.from({ length: wanted.length }, () => 0);
  let previous = -Infinity;
  for (const i of order) {
    previous = Math.max(wanted[i] ?? 0, previous + gapPx, low);
    placed[i] = previous;
  }
  let next = Infinity;
  for (const i of [...order].reverse()) {
    next = Math.min(placed[i] ?? 0, next - gapPx, high);
    placed[i] = next;
  }
  return placed;
}
