// Invented runs as GPX files: the truth is in the arguments, the noise in the receiver and in the day.
import { createRandom } from "../src/engine/quantities/random.ts";
import { inventTrack, writeGpx } from "../src/engine/synthetic/tracks.ts";

export interface InventedRun {
  readonly speedMps: number;
  /** Both feet, at 3 m/s; other speeds by the exponent. */
  readonly stepRateSpm: number;
  readonly minutes?: number;
  /** Day-to-day spread of the step rate, percent. */
  readonly daySdPercent?: number;
  readonly seed: number;
  /** UTC milliseconds; a day in February 2026 when absent. */
  readonly startedAtMs?: number;
}

const EXPONENT = 0.15;

export function inventedGpx(run: InventedRun): string {
  const random = createRandom(run.seed);
  const day = 1 + ((run.daySdPercent ?? 0.8) / 100) * random.normal();
  const minutes = run.minutes ?? 24;
  const legs = Array.from({ length: minutes * 2 }, () => {
    const speedMps = run.speedMps * (1 + 0.03 * random.normal());
    return {
      durationS: 30,
      speedMps,
      stepRateSpm: run.stepRateSpm * day * (speedMps / 3) ** EXPONENT * (1 + 0.004 * random.normal()),
      turnRadPerS: 0.01 * random.normal(),
    };
  });
  const { recording } = inventTrack({
    seed: run.seed,
    legs,
    startedAtMs: run.startedAtMs ?? Date.UTC(2026, 1, 1 + (run.seed % 60), 7),
    noise: { whiteM: 0.5, wanderM: 1.5, stepRateSpm: 1.5 },
  });
  return writeGpx(recording, { cadence: "one" });
}

/** Files by name for the command line: `prefix-1.gpx`, `prefix-2.gpx` … */
export function inventedFiles(
  prefix: string,
  count: number,
  run: Omit<InventedRun, "seed">,
  firstSeed: number,
): Record<string, string> {
  return Object.fromEntries(
    Array.from({ length: count }, (_, index) => [
      `${prefix}-${index + 1}.gpx`,
      inventedGpx({ ...run, seed: firstSeed + index }),
    ]),
  );
}
