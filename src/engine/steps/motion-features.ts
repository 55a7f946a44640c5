// Acceleration samples, as they come, to features at 50 a second. For the rate core: the three axes, whose added spectra do
// not depend on orientation, and the norm of the change (impacts). For placing contacts also the norm.
import { type AxisSamples, createAreaResampler } from "../signal/area-resampler.ts";

export const MOTION_FEATURE_RATE_HZ = 50;
/** x, y, z, jerk norm, norm. */
const MOTION_FEATURE_COUNT = 5;
/** Channels of the rate core's groups, in the order above. */
export const MOTION_GROUP_SIZES: readonly number[] = [3, 1];

/** A pause between two samples longer than this is a gap, bridged but not trusted; a pause of GAP_BREAK_S ends a stretch. */
const GAP_S = 0.3;
const GAP_BREAK_S = 8;

export interface MotionFrontEnd {
  /** Takes the sample at `index`. */
  push(samples: AxisSamples, index: number): void;
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
  const features = new Float64Array(MOTION_FEATURE_COUNT);
  const clock = { lastS: Number.NEGATIVE_INFINITY };
  let measured = true;
  let skippedCount = 0;
  const emit = (index: number, means: Float64Array): void => {
    const x = means[0]!;
    const y = means[1]!;
    const z = means[2]!;
    const dx = x - features[0]!;
    const dy = y - features[1]!;
    const dz = z - features[2]!;
    features[0] = x;
    features[1] = y;
    features[2] = z;
    features[3] = index === 0 ? 0 : MOTION_FEATURE_RATE_HZ * Math.sqrt(dx * dx + dy * dy + dz * dz);
    features[4] = Math.sqrt(x * x + y * y + z * z);
    sink.feature(features, measured);
  };
  let resampler = createAreaResampler(MOTION_FEATURE_RATE_HZ, emit);
  return {
    get skippedCount() {
      return skippedCount;
    },
    push(samples, index) {
      const timeS = samples.timeS[index]!;
      // One comparison catches NaN and infinities of all four.
      const all = timeS + samples.x[index]! + samples.y[index]! + samples.z[index]!;
      if (!(timeS > clock.lastS) || !Number.isFinite(all)) {
        skippedCount += 1;
        return;
      }
      const pauseS = timeS - clock.lastS;
      if (pauseS > GAP_BREAK_S) {
        resampler = createAreaResampler(MOTION_FEATURE_RATE_HZ, emit);
        sink.begin(timeS);
      }
      clock.lastS = timeS;
      measured = pauseS <= GAP_S || pauseS > GAP_BREAK_S;
      resampler.push(samples, index);
    },
  };
}
