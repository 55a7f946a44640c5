// Small dense symmetric systems in row-major typed arrays. Sizes are 1 to about 10, called many thousand times per fit.

/** Lower Cholesky factor in place (upper part is left as it was); returns ln det, or −Infinity when not positive definite. */
export function choleskyInPlace(a: Float64Array, n: number): number {
  let logDet = 0;
  for (let j = 0; j < n; j += 1) {
    let diagonal = a[j * n + j]!;
    for (let k = 0; k < j; k += 1) diagonal -= a[j * n + k]! ** 2;
    if (!(diagonal > 0)) return -Infinity;
    const root = Math.sqrt(diagonal);
    a[j * n + j] = root;
    logDet += 2 * Math.log(root);
    for (let i = j + 1; i < n; i += 1) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k += 1) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = sum / root;
    }
  }
  return logDet;
}

/** Solves L x = b in place for `columns` right-hand sides stored row-major (n × columns). */
export function solveLowerInPlace(l: Float64Array, n: number, b: Float64Array, columns = 1): void {
  for (let c = 0; c < columns; c += 1) {
    for (let i = 0; i < n; i += 1) {
      let sum = b[i * columns + c]!;
      for (let k = 0; k < i; k += 1) sum -= l[i * n + k]! * b[k * columns + c]!;
      b[i * columns + c] = sum / l[i * n + i]!;
    }
  }
}

/** Solves Lᵀ x = b in place. */
export function solveLowerTransposeInPlace(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i -= 1) {
    let sum = b[i]!;
    for (let k = i + 1; k < n; k += 1) sum -= l[k * n + i]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
}

/** Inverse of the matrix whose lower Cholesky factor is l; dense and symmetric. */
export function inverseFromCholesky(l: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j += 1) {
    column.fill(0);
    column[j] = 1;
    solveLowerInPlace(l, n, column);
    solveLowerTransposeInPlace(l, n, column);
    for (let i = 0; i < n; i += 1) inverse[i * n + j] = column[i]!;
  }
  return inverse;
}

/** cᵀ A c for a dense n × n matrix. */
export function quadraticForm(a: Float64Array, n: number, c: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) for (let j = 0; j < n; j += 1) sum += c[i]! * a[i * n + j]! * c[j]!;
  return sum;
}
