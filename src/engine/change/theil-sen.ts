// A straight trend that single wild points cannot bend: the median of all pairwise slopes (Theil 1950; Sen 1968, JASA 63:1379–1389).

/** Median; the mean of the two middle values for an even count. Empty input throws RangeError. */
export function median(values: ArrayLike<number>): number {
  return medianInPlace(Float64Array.from(values));
}

/** A Theil–Sen estimator for fixed x: slope of y over x, in units of y per unit of x. Meant for up to a few hundred points (cost n²/2). */
export function prepareTheilSen(x: ArrayLike<number>): (y: ArrayLike<number>) => number {
  const left: number[] = [];
  const right: number[] = [];
  const inverse: number[] = [];
  for (let i = 0; i < x.length; i += 1)
    for (let j = i + 1; j < x.length; j += 1)
      if (x[i] !== x[j]) {
        left.push(i);
        right.push(j);
        inverse.push(1 / (x[j]! - x[i]!));
      }
  if (inverse.length === 0) throw new RangeError("theilSen: needs two different x");
  const slopes = new Float64Array(inverse.length);
  return (y) => {
    if (y.length !== x.length) throw new RangeError("theilSen: x and y must be equally long");
    for (let k = 0; k < slopes.length; k += 1) slopes[k] = (y[right[k]!]! - y[left[k]!]!) * inverse[k]!;
    return medianInPlace(slopes);
  };
}

/** Theil–Sen slope of y over x. Pairs with equal x are left out; needs one usable pair (RangeError). */
export function theilSenSlope(x: ArrayLike<number>, y: ArrayLike<number>): number {
  return prepareTheilSen(x)(y);
}

function medianInPlace(values: Float64Array): number {
  if (values.length === 0) throw new RangeError("median: needs at least one value");
  const middle = values.length >> 1;
  const upper = selectInPlace(values, middle);
  if (values.length % 2 === 1) return upper;
  let lower = -Infinity;
  for (let i = 0; i < middle; i += 1) lower = Math.max(lower, values[i]!);
  return (lower + upper) / 2;
}

/** Hoare's selection: afterwards the k-th smallest stands at k and nothing before it is larger. */
function selectInPlace(values: Float64Array, k: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i += 1;
      while (values[j]! > pivot) j -= 1;
      if (i <= j) {
        const swap = values[i]!;
        values[i] = values[j]!;
        values[j] = swap;
        i += 1;
        j -= 1;
      }
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k]!;
}
