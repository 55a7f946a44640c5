// Values near a place, thinned: for quantiles that are wanted often.

const THINNING = 4;

/** Every fourth value from `from` to `to` (exclusive), as far as they exist: enough for a quantile at a quarter of the sorting. */
export function sampleAround(values: Float32Array | Float64Array, from: number, to: number): Float64Array {
  const first = Math.max(0, from);
  const last = Math.min(values.length, to);
  const sample = new Float64Array(Math.max(0, Math.ceil((last - first) / THINNING)));
  for (let index = 0; index < sample.length; index += 1) sample[index] = values[first + THINNING * index]!;
  return sample;
}
