// Acceleration samples, as they come, to features at 50 a second. For the rate core: the three axes, whose added spectra do
// not depend on orientation, and the norm of the change (impacts). For placing contacts also the norm.
import { createAreaResampler } from "../signal/area-resampler.ts";

export const MOTION_FEATURE_RATE_HZ = 50;
/** x, y, z, jerk norm, norm. */
const MOTION_FEATURE_COUNT = 5;
/** Channels of the rate core's groups, in the order above. */
export const MOTION_GROUP_SIZES: readonly number[] = [3, 1];

/** A pause between two samples longer than this is a gap, bridged but not trusted; a pause of GAP_BREAK_S ends a stretch. */
const GAP_S = 0.3;
const GAP_BREAK_S = 8;

export interface MotionFrontEnd {
  push(timeS: number, x: number, y: number, z: number): void;
  /** Samples left out because their time did not move on, or a value was not finite. */
  readonly skippedCount: number;
}

export interface MotionSink {
  /** The next feature vector; the buffer is reused. `measured` is false where a gap was bridged. */
  feature(values: Float64Array, measured: boolean): void;
  /** A new stretch begins at this time; the next feature has it. */
  begin(timeS: number): void;
}

/** No allocation per sample. */
export function createMotionFrontEnd(sink: MotionSink): MotionFrontEnd {
  const values = new Float64Array(3);
  const features = new Float64Array(MOTION_FEATURE_COUNT);
  let previousX = 0;
  let previousY = 0;
  let previousZ = 0;
  let lastTimeS = Number.NEGATIVE_INFINITY;
  let measured = true;
  let skippedCount = 0;
  const emit = (index: number, means: Float64Array): void => {
    const x = means[0]!;
    const y = means[1]!;
    const z = means[2]!;
    features[0] = x;
    features[1] = y;
    features[2] = z;
    features[4] = Math.sqrt(x * x + y * y + z * z);
    const dx = x - previousX;
    const dy = y - previousY;
    const dz = z - previousZ;
    features[3] = index === 0 ? 0 : MOTION_FEATURE_RATE_HZ * Math.sqrt(dx * dx + dy * dy + dz * dz);
    previousX = x;
    previousY = y;
    previousZ = z;
    sink.feature(features, measured);
  };
  let resampler = createAreaResampler(3, MOTION_FEATURE_RATE_HZ, emit);
  return {
    get skippedCount() {
      return skippedCount;
    },
    push(timeS, x, y, z) {
      // One comparison catches NaN and infinities of all four.
      if (!(timeS > lastTimeS) || !Number.isFinite(timeS + x + y + z)) {
        skippedCount += 1;
        return;
      }
      const pauseS = timeS - lastTimeS;
      if (pauseS > GAP_BREAK_S) {
        resampler = createAreaResampler(3, MOTION_FEATURE_RATE_HZ, emit);
        sink.begin(timeS);
      }
      lastTimeS = timeS;
      measured = pauseS <= GAP_S || pauseS > GAP_BREAK_S;
      values[0] = x;
      values[1] = y;
      values[2] = z;
      resampler.push(timeS, values);
    },
  };
}
