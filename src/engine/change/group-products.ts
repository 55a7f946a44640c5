// Sufficient statistics of a linear mixed model: cross products of [Z | X | y] per group, after removing the
// first-order autocorrelation inside the group. Everything else is small matrices.

export interface MixedModelData {
  readonly y: ArrayLike<number>;
  /** Columns of fixed effects, each as long as y. */
  readonly fixed: readonly ArrayLike<number>[];
  /** Columns of random effects, each as long as y: [ones] for a random intercept, [ones, x] for a random slope as well. Empty for none. */
  readonly random: readonly ArrayLike<number>[];
  /** Group of each row, 0-based, without holes. */
  readonly group: ArrayLike<number>;
  /** Time of each row inside its group, increasing; only needed for autocorrelation. Correlation at one unit of this time is rho. */
  readonly time?: ArrayLike<number>;
}

export interface GroupProducts {
  /** Size of one side of each matrix: random + fixed + 1. */
  readonly side: number;
  readonly randomCount: number;
  readonly fixedCount: number;
  readonly rowCount: number;
  /** One symmetric side × side matrix per group. */
  readonly matrices: readonly Float64Array[];
  /** ln det of the correlation matrix of all rows. */
  readonly logDetCorrelation: number;
}

/** Row indices of each group in the order given. */
function rowsByGroup(group: ArrayLike<number>): number[][] {
  const rows: number[][] = [];
  for (let i = 0; i < group.length; i += 1) (rows[group[i]!] ??= []).push(i);
  for (let g = 0; g < rows.length; g += 1)
    if (rows[g] === undefined)
      throw new RangeError(`groupProducts: group ${g} has no rows; number groups without holes`);
  return rows;
}

/** A reusable maker of cross products: the rows are laid out once, each call takes a new autocorrelation rho in [0, 1). */
export function prepareGroupProducts(data: MixedModelData): (rho: number) => GroupProducts {
  const rows = rowsByGroup(data.group);
  const columns = [...data.random, ...data.fixed, data.y];
  const side = columns.length;
  const rowCount = data.y.length;
  const laid = rows.map((indices) => {
    const values = new Float64Array(indices.length * side);
    const gaps = new Float64Array(indices.length);
    indices.forEach((row, position) => {
      for (let c = 0; c < side; c += 1) values[position * side + c] = columns[c]![row]!;
      if (position > 0 && data.time !== undefined) {
        gaps[position] = data.time[row]! - data.time[indices[position - 1]!]!;
        if (!(gaps[position]! > 0)) throw new RangeError("groupProducts: time must increase inside a group");
      }
    });
    return { values, gaps, count: indices.length };
  });
  return (rho) => {
    if (rho !== 0 && data.time === undefined) throw new RangeError("groupProducts: autocorrelation needs time");
    let logDetCorrelation = 0;
    const scratch = new Float64Array(side);
    const matrices = laid.map(({ values, gaps, count }) => {
      const matrix = new Float64Array(side * side);
      for (let i = 0; i < count; i += 1) {
        // Innovation of a continuous-time AR(1): e_i − phi e_(i−1) has variance 1 − phi², with phi = rho^gap.
        const phi = i === 0 || rho === 0 ? 0 : rho ** gaps[i]!;
        const variance = 1 - phi * phi;
        const scale = 1 / Math.sqrt(variance);
        if (phi !== 0) logDetCorrelation += Math.log(variance);
        for (let c = 0; c < side; c += 1) {
          const before = phi === 0 ? 0 : phi * values[(i - 1) * side + c]!;
          scratch[c] = scale * (values[i * side + c]! - before);
        }
        for (let r = 0; r < side; r += 1) {
          const left = scratch[r]!;
          for (let c = 0; c <= r; c += 1) matrix[r * side + c] = matrix[r * side + c]! + left * scratch[c]!;
        }
      }
      for (let r = 0; r < side; r += 1)
        for (let c = r + 1; c < side; c += 1) matrix[r * side + c] = matrix[c * side + r]!;
      return matrix;
    });
    return {
      side,
      randomCount: data.random.length,
      fixedCount: data.fixed.length,
      rowCount,
      matrices,
      logDetCorrelation,
    };
  };
}
