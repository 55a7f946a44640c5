// Measures of rendered sound for tests, written without the code that made it.
import FFT from "fft.js";

/** All chunks in one array. */
export function joinChunks(chunks: Iterable<Int16Array>): Int16Array {
  const list = [...chunks];
  const whole = new Int16Array(list.reduce((sum, chunk) => sum + chunk.length, 0));
  let offset = 0;
  for (const chunk of list) {
    whole.set(chunk, offset);
    offset += chunk.length;
  }
  return whole;
}

/** Index of the first sample that differs, −1 when there is none; a length that differs counts from the shorter end. */
export function firstDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const count = Math.max(a.length, b.length);
  for (let index = 0; index < count; index += 1) if (a[index] !== b[index]) return index;
  return -1;
}

/**
 * Lag in [−reach, reach] around `near` at which the template fits best, refined to a fraction of a sample by a parabola
 * through the peak of the cross-correlation.
 */
export function locate(sound: ArrayLike<number>, template: ArrayLike<number>, near: number, reach: number): number {
  const start = Math.round(near);
  const fit = (lag: number): number => {
    let sum = 0;
    const offset = start + lag;
    const from = Math.max(0, -offset);
    const to = Math.min(template.length, sound.length - offset);
    for (let index = from; index < to; index += 1) sum += sound[offset + index]! * template[index]!;
    return sum;
  };
  let best = -reach;
  let bestFit = -Infinity;
  for (let lag = -reach; lag <= reach; lag += 1) {
    const value = fit(lag);
    if (value > bestFit) [best, bestFit] = [lag, value];
  }
  const [left, right] = [fit(best - 1), fit(best + 1)];
  return start + best + (0.5 * (left - right)) / (left - 2 * bestFit + right);
}

/** Share of the energy between two frequencies, by one transform of the zero-padded sound. */
export function energyShare(samples: ArrayLike<number>, sampleRateHz: number, lowHz: number, highHz: number): number {
  const size = 2 ** Math.ceil(Math.log2(samples.length * 4));
  const fft = new FFT(size);
  const input = Array.from({ length: size }, () => 0);
  for (let index = 0; index < samples.length; index += 1) input[index] = samples[index]!;
  const spectrum = fft.createComplexArray() as number[];
  fft.realTransform(spectrum, input);
  let all = 0;
  let inside = 0;
  for (let bin = 0; bin <= size / 2; bin += 1) {
    const energy = spectrum[2 * bin]! ** 2 + spectrum[2 * bin + 1]! ** 2;
    const hz = (bin * sampleRateHz) / size;
    all += energy;
    if (hz >= lowHz && hz <= highHz) inside += energy;
  }
  return inside / all;
}
