// Power spectral density by averaging overlapping windowed segments (Welch 1967).
import { createRealFft, hannWindow } from "./real-fft.ts";

export interface WelchSpectrum {
  readonly frequenciesHz: Float64Array;
  /** One-sided density, unit²/Hz. */
  readonly density: Float64Array;
}

/**
 * One-sided power spectral density: Hann segments of `segmentLength` samples, half overlapping, mean removed from each,
 * zero-padded to `fftSize` (a power of two). Definition and scaling as scipy.signal.welch, scaling "density".
 * Needs at least one full segment.
 */
export function welch(
  samples: Float64Array,
  options: { readonly sampleRateHz: number; readonly segmentLength: number; readonly fftSize: number },
): WelchSpectrum {
  const { sampleRateHz, segmentLength, fftSize } = options;
  if (segmentLength > samples.length)
    throw new RangeError(`welch: segmentLength must be at most ${samples.length}, got ${segmentLength}`);
  if (segmentLength > fftSize) throw new RangeError(`welch: fftSize must be at least ${segmentLength}, got ${fftSize}`);
  const fft = createRealFft(fftSize);
  const window = hannWindow(segmentLength);
  const density = new Float64Array(fftSize / 2 + 1);
  const segment = new Float64Array(segmentLength);
  const hop = segmentLength - Math.floor(segmentLength / 2);
  let segments = 0;
  for (let start = 0; start + segmentLength <= samples.length; start += hop) {
    let mean = 0;
    for (let i = 0; i < segmentLength; i += 1) mean += samples[start + i]!;
    mean /= segmentLength;
    for (let i = 0; i < segmentLength; i += 1) segment[i] = (samples[start + i]! - mean) * window[i]!;
    fft.addPower(segment, density);
    segments += 1;
  }
  const windowPower = window.reduce((sum, w) => sum + w * w, 0);
  const scale = 1 / (sampleRateHz * windowPower * segments);
  for (let k = 0; k < density.length; k += 1) density[k]! *= k === 0 || k === density.length - 1 ? scale : 2 * scale; // both signs of frequency, except at the ends
  return { frequenciesHz: density.map((_, k) => (k * sampleRateHz) / fftSize), density };
}
