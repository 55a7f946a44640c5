// A run of the demo as the bytes of a GPX file, made by the engine's inventor of tracks.
import { SPEED_EXPONENT } from "../../engine/evidence/change.ts";
import { createRandom } from "../../engine/quantities/random.ts";
import { inventTrack, type TrackLeg, writeGpx } from "../../engine/synthetic/tracks.ts";
import { stepRateAtSpeed } from "../../engine/target/speed-curve.ts";

export interface RunWish {
  readonly seed: number;
  readonly startedAtMs: number;
  readonly minutes: number;
  readonly speedMps: number;
  /** Both feet, at speedMps. */
  readonly stepRateSpm: number;
  /** Step rate of the last minutes, when they run without the beat. */
  readonly endStepRateSpm?: number;
  readonly endMinutes?: number;
  readonly lateDropShare?: number;
  /** Spread from day to day, as a share. */
  readonly daySd?: number;
}

const LEG_S = 30;
/** One day differs from the next by about a percent (see docs/method on the day-to-day spread). */
const DAY_SD = 0.008;
const RADIUS_M = 60;

export function inventRun(wish: RunWish): Uint8Array {
  const random = createRandom(wish.seed);
  const day = 1 + (wish.daySd ?? DAY_SD) * random.normal();
  const legCount = Math.round((wish.minutes * 60) / LEG_S);
  const endLegs = Math.round(((wish.endMinutes ?? 0) * 60) / LEG_S);
  const legs = Array.from({ length: legCount }, (_, index): TrackLeg => {
    const along = index / legCount;
    const speedMps = wish.speedMps * (1 + 0.03 * Math.sin(index / 3.7) + 0.008 * random.normal());
    const base = index >= legCount - endLegs ? (wish.endStepRateSpm ?? wish.stepRateSpm) : wish.stepRateSpm;
    const tired = 1 - (wish.lateDropShare ?? 0) * Math.max(0, (along - 0.4) / 0.6);
    const stepRateSpm =
      stepRateAtSpeed(base, wish.speedMps, speedMps, SPEED_EXPONENT.value.mean) *
      day *
      tired *
      (1 + 0.003 * random.normal());
    return { durationS: LEG_S, speedMps, stepRateSpm, turnRadPerS: speedMps / RADIUS_M };
  });
  const { recording } = inventTrack({
    seed: wish.seed,
    legs,
    startedAtMs: wish.startedAtMs,
    sampleIntervalS: 2,
    noise: { whiteM: 0.8, wanderM: 2, elevationM: 0.4, stepRateSpm: 1 },
  });
  return Buffer.from(writeGpx(recording, { cadence: "one" }), "utf8");
}
