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
  if (minProminence !== undefined) peaks = peaks.filter((index) => isProminent(x, index, minProminence));
  return peaks;
}

/** Does the signal fall by `least` on both sides before it rises above the peak? Ends as soon as that is known. */
function isProminent(x: Float64Array, at: number, least: number): boolean {
  const height = x[at]!;
  return fallsBefore(x, at, -1, height, least) && fallsBefore(x, at, 1, height, least);
}

function fallsBefore(x: Float64Array, at: number, direction: 1 | -1, height: number, least: number): boolean {
  for (let i = at; i >= 0 && i < x.length && x[i]! <= height; i += direction)
    // Written as scipy computes it, so that the last bit decides alike.
    if (height - x[i]! >= least) return true;
  return false;
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

/**
 * Keeps a peak when no higher one that is still open lies within the distance, and drops its neighbours; of equal ones the
 * later wins. The same result as taking all peaks from the highest down, without sorting them.
 */
function thinByDistance(x: Float64Array, peaks: Int32Array, distance: number): Int32Array {
  const n = peaks.length;
  const OPEN = 0;
  const KEPT = 1;
  const DROPPED = 2;
  const fate = new Uint8Array(n);
  const isTop = (i: number): boolean => {
    const at = peaks[i]!;
    const height = x[at]!;
    for (let k = i - 1; k >= 0 && at - peaks[k]! < distance; k -= 1)
      if (fate[k] === OPEN && x[peaks[k]!]! > height) return false;
    for (let k = i + 1; k < n && peaks[k]! - at < distance; k += 1)
      if (fate[k] === OPEN && x[peaks[k]!]! >= height) return false;
    return true;
  };
  let i = 0;
  while (i < n) {
    if (fate[i] !== OPEN || !isTop(i)) {
      i += 1;
      continue;
    }
    fate[i] = KEPT;
    const at = peaks[i]!;
    for (let k = i + 1; k < n && peaks[k]! - at < distance; k += 1) if (fate[k] === OPEN) fate[k] = DROPPED;
    // Open peaks further back may have waited for one that was dropped now: look at them again.
    let back = i + 1;
    for (let k = i - 1; k >= 0 && at - peaks[k]! < 2 * distance; k -= 1) {
      if (fate[k] !== OPEN) continue;
      if (at - peaks[k]! < distance) fate[k] = DROPPED;
      else back = k;
    }
    i = back;
  }
  return peaks.filter((_, k) => fate[k] === KEPT);
}
