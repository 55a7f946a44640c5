// Fast Fourier transform of real signals, through fft.js (radix 4, powers of two).
import FFT from "fft.js";

export interface RealFft {
  readonly size: number;
  /** Adds |X_k|² of `input` (zero-padded to `size`), k = 0 … size/2, to `power`. No allocation. */
  addPower(input: Float64Array, power: Float64Array): void;
  /**
   * The same for two real signals at the price of one transform; the powers go to separate sums, up to bin `topBin`
   * (default all).
   */
  addPowerOfTwo(
    first: Float64Array,
    second: Float64Array,
    powerFirst: Float64Array,
    powerSecond: Float64Array,
    topBin?: number,
  ): void;
}

/** A reusable transform of `size`, a power of two of at least 4. */
export function createRealFft(size: number): RealFft {
  if (size < 4 || (size & (size - 1)) !== 0)
    throw new RangeError(`createRealFft: size must be a power of two of at least 4, got ${size}`);
  const fft = new FFT(size);
  // Plain arrays: fft.js was written for them and is faster on them than on typed ones.
  const packed = fft.createComplexArray() as number[];
  const spectrum = fft.createComplexArray() as number[];
  const half = size / 2;
  packed.fill(0);
  let used = 0;
  /** Zeros after the first `count` numbers, where an earlier input has left others. */
  const pad = (count: number): void => {
    if (used > count) packed.fill(0, count, used);
    used = count;
  };
  const addPowerOfTwo: RealFft["addPowerOfTwo"] = (first, second, powerFirst, powerSecond, topBin = half) => {
    const n = first.length;
    for (let i = 0; i < n; i += 1) {
      packed[2 * i] = first[i]!;
      packed[2 * i + 1] = second[i]!;
    }
    pad(2 * n);
    fft.transform(spectrum, packed);
    // Z = A + iB with A, B hermitian: A_k = (Z_k + conj Z_{N−k})/2, B_k = (Z_k − conj Z_{N−k})/2i.
    for (let k = 0; k <= topBin; k += 1) {
      const m = k === 0 ? 0 : size - k;
      const re = spectrum[2 * k]!;
      const im = spectrum[2 * k + 1]!;
      const reM = spectrum[2 * m]!;
      const imM = spectrum[2 * m + 1]!;
      powerFirst[k]! += ((re + reM) ** 2 + (im - imM) ** 2) / 4;
      powerSecond[k]! += ((re - reM) ** 2 + (im + imM) ** 2) / 4;
    }
  };
  return {
    size,
    addPowerOfTwo,
    addPower(input, power) {
      const n = input.length;
      for (let i = 0; i < n; i += 1) packed[i] = input[i]!;
      pad(n);
      fft.realTransform(spectrum, packed);
      for (let k = 0; k <= half; k += 1) power[k]! += spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2;
    },
  };
}

/** Periodic Hann window, w_i = ½ − ½cos(2πi/n): the one for spectra. */
export function hannWindow(length: number): Float64Array {
  return Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length));
}
