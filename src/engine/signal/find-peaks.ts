// Local maxima of a sampled signal, with the usual conditions.

export interface PeakConditions {
  /** Least value of a peak. */
  readonly minHeight?: number;
  /** Least distance between kept peaks, in samples; higher peaks win. At least 1. */
  readonly minDistance?: number;
  /** Least prominence. */
  readonly minProminence?: number;
}

/**
 * Indices of the local maxima, ascending: samples strictly above both neighbours; a flat top counts once, at its middle
 * (rounded down); the ends never count. Conditions are applied in the order height, distance, prominence.
 * Same definitions as scipy.signal.find_peaks. NaN breaks comparison and so never is a peak.
 */
export function findPeaks(x: Float64Array, conditions: PeakConditions = {}): Int32Array {
  let peaks = localMaxima(x);
  const { minHeight, minDistance, minProminence } = conditions;
  if (minHeight !== undefined) peaks = peaks.filter((index) => x[index]! >= minHeight);
  if (minDistance !== undefined) {
    if (!(minDistance >= 1)) throw new RangeError(`findPeaks: minDistance must be at least 1, got ${minDistance}`);
    peaks = thinByDistance(x, peaks, Math.ceil(minDistance));
  }
  if (minProminence !== undefined) {
    const prominences = peakProminences(x, peaks);
    peaks = peaks.filter((_, i) => prominences[i]! >= minProminence);
  }
  return peaks;
}

/** Height of each peak above the higher of the two lowest points between it and higher ground (or the end) on each side. */
export function peakProminences(x: Float64Array, peaks: Int32Array): Float64Array {
  const out = new Float64Array(peaks.length);
  for (let p = 0; p < peaks.length; p += 1) {
    const at = peaks[p]!;
    const height = x[at]!;
    let leftMin = height;
    for (let i = at; i >= 0 && x[i]! <= height; i -= 1) if (x[i]! < leftMin) leftMin = x[i]!;
    let rightMin = height;
    for (let i = at; i < x.length && x[i]! <= height; i += 1) if (x[i]! < rightMin) rightMin = x[i]!;
    out[p] = height - Math.max(leftMin, rightMin);
  }
  return out;
}

function localMaxima(x: Float64Array): Int32Array {
  const found = new Int32Array(x.length >> 1);
  let count = 0;
  const last = x.length - 1;
  let i = 1;
  while (i < last) {
    if (x[i - 1]! < x[i]!) {
      let ahead = i + 1;
      while (ahead < last && x[ahead] === x[i]) ahead += 1;
      if (x[ahead]! < x[i]!) {
        found[count] = (i + ahead - 1) >> 1;
        count += 1;
        i = ahead;
      }
    }
    i += 1;
  }
  return found.slice(0, count);
}

function thinByDistance(x: Float64Array, peaks: Int32Array, distance: number): Int32Array {
  const kept = new Uint8Array(peaks.length).fill(1);
  const order = Int32Array.from(peaks.keys()).sort((a, b) => x[peaks[a]!]! - x[peaks[b]!]! || a - b);
  for (let o = order.length - 1; o >= 0; o -= 1) {
    const j = order[o]!;
    if (kept[j] === 0) continue;
    for (let k = j - 1; k >= 0 && peaks[j]! - peaks[k]! < distance; k -= 1) kept[k] = 0;
    for (let k = j + 1; k < peaks.length && peaks[k]! - peaks[j]! < distance; k += 1) kept[k] = 0;
  }
  return peaks.filter((_, i) => kept[i] === 1);
}
