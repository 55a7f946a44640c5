// Where in the step cycle the foot lands: the sharpest rise of the mean step, one place for a whole recording.

const BINS = 50;

export interface LandingFold {
  /** Adds the channel over a span; `steps` is the span's phase, channel index `from` belongs to its first value. */
  add(channel: Float32Array, from: number, steps: Float64Array): void;
  /** Phase of the landing, −0.5 to 0.5 step; 0 when nothing was added. */
  phase(): number;
}

/**
 * In flight the body feels little, at landing the force sets in at once: on the trunk the sharpest rise is the contact. On
 * a limb it may be another moment of the step; it is the same moment in every step, so times keep a constant distance.
 */
export function createLandingFold(): LandingFold {
  const sums = new Float64Array(BINS);
  const counts = new Float64Array(BINS);
  return {
    add(channel, from, steps) {
      for (let i = 0; i < steps.length; i += 1) {
        const step = steps[i]!;
        const at = (step - Math.floor(step)) * BINS;
        const bin = Math.floor(at);
        const next = bin + 1 === BINS ? 0 : bin + 1;
        const share = at - bin;
        const value = channel[from + i]!;
        sums[bin]! += (1 - share) * value;
        counts[bin]! += 1 - share;
        sums[next]! += share * value;
        counts[next]! += share;
      }
    },
    phase() {
      if (counts.some((count) => count === 0)) return 0;
      const mean = sums.map((sum, b) => sum / counts[b]!);
      const rise = mean.map((_, b) => mean[(b + 3) % BINS]! - mean[(b + BINS - 3) % BINS]!);
      let best = 0;
      for (let b = 1; b < BINS; b += 1) if (rise[b]! > rise[best]!) best = b;
      const left = rise[(best + BINS - 1) % BINS]!;
      const right = rise[(best + 1) % BINS]!;
      const bend = 2 * rise[best]! - left - right;
      const phase = (best + (bend > 0 ? (right - left) / (2 * bend) : 0)) / BINS;
      return phase > 0.5 ? phase - 1 : phase;
    },
  };
}
