// Irregular samples to a uniform grid, one sample at a time: each output is the mean of the piecewise linear signal
// over one output interval. The averaging is the anti-alias filter (a zero at the output rate), and it does not care
// about jitter, duplicates or the input rate.

export interface AreaResampler {
  /** `values` has `channelCount` numbers. Calls `emit` zero or more times. Times must not go back. */
  push(timeS: number, values: Float64Array): void;
}

/**
 * Output k is centred at originS + k/outputRateHz and averages ± half an interval; the origin is the first sample's time.
 * The first output (half of it before the first sample) is the first half interval only.
 * `emit` gets the index and a buffer that is reused: copy what you keep.
 */
export function createAreaResampler(
  channelCount: number,
  outputRateHz: number,
  emit: (index: number, means: Float64Array) => void,
): AreaResampler {
  const interval = 1 / outputRateHz;
  const sums = new Float64Array(channelCount);
  const means = new Float64Array(channelCount);
  const last = new Float64Array(channelCount);
  let originS = Number.NaN;
  let lastS = 0; // relative to the origin, so that large clocks lose no digits
  let nextIndex = 0;
  let covered = 0;
  return {
    push(timeS, values) {
      if (Number.isNaN(originS)) {
        originS = timeS;
        last.set(values);
        return;
      }
      const nowS = timeS - originS;
      const span = nowS - lastS;
      if (span > 0) {
        let fromS = lastS;
        for (;;) {
          const edgeS = (nextIndex + 0.5) * interval;
          const toS = edgeS < nowS ? edgeS : nowS;
          const width = toS - fromS;
          // The mean of a linear piece is its value in the middle.
          const middle = ((fromS + toS) / 2 - lastS) / span;
          for (let c = 0; c < channelCount; c += 1) sums[c]! += width * (last[c]! + middle * (values[c]! - last[c]!));
          covered += width;
          if (edgeS > nowS) break;
          for (let c = 0; c < channelCount; c += 1) {
            means[c] = covered > 0 ? sums[c]! / covered : values[c]!;
            sums[c] = 0;
          }
          emit(nextIndex, means);
          nextIndex += 1;
          covered = 0;
          fromS = edgeS;
        }
        lastS = nowS;
      }
      last.set(values);
    },
  };
}
