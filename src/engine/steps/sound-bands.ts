// The loudness of a sound in half-octave bands, a hundred times a second.
import { createRealFft, hannWindow } from "../signal/real-fft.ts";

export interface SoundBands {
  readonly frameRateHz: number;
  readonly frameCount: number;
  /** Centre frequency of each band, ascending. */
  readonly centresHz: readonly number[];
  /** Mean power per spectral line, band by band: `power[band][frame]`. Full scale is 1. */
  readonly power: readonly Float32Array[];
}

const LOWEST_HZ = 60;
const HIGHEST_HZ = 8000;

/**
 * Short-time spectra: Hann frames of 20 ms (the next even count of samples) every 10 ms, frame k centred on k/frameRateHz.
 * Bands run from 60 Hz to 8 kHz or to 0.45 of the sample rate. Cost: one transform for two frames; memory 4 bytes a frame and band.
 */
export function soundBands(samples: Float32Array, sampleRateHz: number): SoundBands {
  const hop = Math.max(1, Math.round(sampleRateHz / 100));
  const length = 2 * hop;
  const fft = createRealFft(2 ** Math.ceil(Math.log2(length)));
  const window = hannWindow(length);
  const frameCount = Math.max(1, Math.ceil(samples.length / hop));
  const edges = bandEdges(sampleRateHz, fft.size);
  const power = edges.map(() => new Float32Array(frameCount));
  // A full-scale sine has about power 1 at its line.
  const scale = 1 / (length / 2) ** 2;
  const first = new Float64Array(length);
  const second = new Float64Array(length);
  const firstPower = new Float64Array(fft.size / 2 + 1);
  const secondPower = new Float64Array(fft.size / 2 + 1);
  const store = (frame: number, lines: Float64Array): void => {
    for (let band = 0; band < edges.length; band += 1) {
      const { from, to } = edges[band]!;
      let sum = 0;
      for (let line = from; line < to; line += 1) sum += lines[line]!;
      power[band]![frame] = (sum * scale) / (to - from);
    }
  };
  for (let frame = 0; frame < frameCount; frame += 2) {
    cut(samples, frame * hop - hop, window, first);
    cut(samples, (frame + 1) * hop - hop, window, second);
    firstPower.fill(0);
    secondPower.fill(0);
    fft.addPowerOfTwo(first, second, firstPower, secondPower);
    store(frame, firstPower);
    if (frame + 1 < frameCount) store(frame + 1, secondPower);
  }
  return {
    frameRateHz: sampleRateHz / hop,
    frameCount,
    centresHz: edges.map(({ centreHz }) => centreHz),
    power,
  };
}

interface BandEdge {
  readonly centreHz: number;
  readonly from: number;
  readonly to: number;
}

function bandEdges(sampleRateHz: number, size: number): BandEdge[] {
  const top = Math.min(HIGHEST_HZ, 0.45 * sampleRateHz);
  const edges: BandEdge[] = [];
  let from = Math.max(1, Math.round((LOWEST_HZ * size) / sampleRateHz));
  for (let lowHz = LOWEST_HZ; lowHz < top; lowHz *= Math.SQRT2) {
    const to = Math.round((Math.min(lowHz * Math.SQRT2, top) * size) / sampleRateHz);
    if (to <= from) continue;
    edges.push({ centreHz: (((from + to - 1) / 2) * sampleRateHz) / size, from, to });
    from = to;
  }
  return edges;
}

function cut(samples: Float32Array, start: number, window: Float64Array, into: Float64Array): void {
  if (start >= 0 && start + window.length <= samples.length)
    for (let index = 0; index < window.length; index += 1) into[index] = samples[start + index]! * window[index]!;
  else
    for (let index = 0; index < window.length; index += 1) into[index] = (samples[start + index] ?? 0) * window[index]!;
}
