// An invented motion recording with known truth: for tests, the demo and planning questions.
import { createRandom } from "../quantities/random.ts";
import { type MotionRecording } from "../recordings/recording.ts";
import { moveBody, type Placement } from "./body-motion.ts";
import { type GaitSegment, type GaitTimeline, layGaitTimeline } from "./gait-timeline.ts";
import { type MotionSensor, senseMotion } from "./motion-sensor.ts";

export interface SyntheticMotionOptions extends Partial<MotionSensor> {
  readonly seed: number;
  readonly placement: Placement;
  readonly segments: readonly GaitSegment[];
  /** Difference of the two alternating step times over their mean, percent. Default 0. */
  readonly asymmetryPercent?: number;
  /** Default 0.015. */
  readonly stepJitterShare?: number;
}

export interface SyntheticMotion {
  readonly recording: MotionRecording;
  /** True contacts, seconds from the recording's first sample. */
  readonly stepTimesS: Float64Array;
  readonly segments: GaitTimeline["segments"];
}

/**
 * A physical runner seen by a physical sensor: body weight carried by a force pulse in each contact, free fall in flight,
 * a ringing impact, limbs as pendulums at stride rate, the foot standing and flying; then mounting, sampling, noise,
 * range and losses. The same options give the same recording. Defaults: 100 Hz, gravity included, a good sensor.
 */
export function makeSyntheticMotion(options: SyntheticMotionOptions): SyntheticMotion {
  const random = createRandom(options.seed);
  const timeline = layGaitTimeline(
    options.segments,
    { asymmetryShare: (options.asymmetryPercent ?? 0) / 100, stepJitterShare: options.stepJitterShare ?? 0.015 },
    random,
  );
  const body = moveBody(timeline, options.placement, 400, random);
  const recording = senseMotion(
    body,
    {
      sampleRateHz: options.sampleRateHz ?? 100,
      gravity: options.gravity ?? "included",
      noiseMps2: options.noiseMps2 ?? 0.1,
      clipMps2: options.clipMps2 ?? 160,
      clockJitterShare: options.clockJitterShare ?? 0.05,
      duplicateShare: options.duplicateShare ?? 0,
      dropOutsPerMinute: options.dropOutsPerMinute ?? 0,
      turningRad: options.turningRad ?? 0.2,
    },
    random,
  );
  return { recording, stepTimesS: timeline.stepTimesS, segments: timeline.segments };
}
