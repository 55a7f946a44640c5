// Irregular samples of three axes to a uniform grid, one sample at a time: each output is the mean of the piecewise linear
// signal over one output interval. The averaging is the anti-alias filter (a zero at the output rate), and it does not care
// about jitter, duplicates or the input rate.

/** Columns of equal length. */
export interface AxisSamples {
  readonly timeS: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

export interface AreaResampler {
  /** Takes the sample at `index`. Calls `emit` zero or more times. Times must not go back. */
  push(samples: AxisSamples, index: number): void;
}

/**
 * Output k is centred at originS + k/outputRateHz and averages ± half an interval; the origin is the first sample's time.
 * The first output (half of it before the first sample) is the first half interval only.
 * `emit` gets the index and the three means in a buffer that is reused: copy what you keep. Nothing is allocated per
 * sample: numbers travel in arrays and objects, because as arguments or captured variables each would be allocated anew.
 */
export function createAreaResampler(
  outputRateHz: number,
  emit: (index: number, means: Float64Array) => void,
): AreaResampler {
  const interval = 1 / outputRateHz;
  const means = new Float64Array(3);
  const sum = Float64Array.of(0, 0, 0);
  const state = { originS: Number.NaN, lastS: Number.NaN, x: 0.5, y: 0.5, z: 0.5, coveredS: 0.5 };
  state.coveredS = 0;
  let nextIndex = 0;
  return {
    push(samples, index) {
      const timeS = samples.timeS[index]!;
      const x = samples.x[index]!;
      const y = samples.y[index]!;
      const z = samples.z[index]!;
      if (Number.isNaN(state.originS)) state.originS = timeS;
      // Relative to the origin, so that large clocks lose no digits.
      const nowS = timeS - state.originS;
      const { lastS, x: lastX, y: lastY, z: lastZ } = state;
      const spanS = nowS - lastS;
      if (spanS > 0) {
        const slope = 1 / spanS;
        let fromS = lastS;
        for (;;) {
          const edgeS = (nextIndex + 0.5) * interval;
          const toS = edgeS < nowS ? edgeS : nowS;
          const width = toS - fromS;
          // The mean of a linear piece is its value in the middle.
          const middle = ((fromS + toS) / 2 - lastS) * slope;
          sum[0]! += width * (lastX + middle * (x - lastX));
          sum[1]! += width * (lastY + middle * (y - lastY));
          sum[2]! += width * (lastZ + middle * (z - lastZ));
          state.coveredS += width;
          if (edgeS > nowS) break;
          const covered = state.coveredS;
          means[0] = covered > 0 ? sum[0]! / covered : x;
          means[1] = covered > 0 ? sum[1]! / covered : y;
          means[2] = covered > 0 ? sum[2]! / covered : z;
          sum.fill(0);
          state.coveredS = 0;
          emit(nextIndex, means);
          nextIndex += 1;
          fromS = edgeS;
        }
      }
      state.lastS = nowS;
      state.x = x;
      state.y = y;
      state.z = z;
    },
  };
}
