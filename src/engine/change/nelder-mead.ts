// Derivative-free minimum of a smooth function of a few variables: Nelder & Mead 1965 (Computer Journal 7:308–313),
// restarted from its own answer until a restart no longer helps.

export interface Minimum {
  readonly at: readonly number[];
  readonly value: number;
  readonly evaluations: number;
  readonly converged: boolean;
}

export interface MinimizeOptions {
  /** Size of the first simplex along each axis. Default 0.5. */
  readonly step?: number;
  /** Stop when the simplex values differ by less than this. Default 1e-11. */
  readonly tolerance?: number;
  readonly maxEvaluations?: number;
}

/** Minimum of `f` near `start`. An infinite value means "not allowed here". Deterministic. */
export function minimize(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  options: MinimizeOptions = {},
): Minimum {
  const tolerance = options.tolerance ?? 1e-11;
  const maxEvaluations = options.maxEvaluations ?? 4000;
  let best = simplexSearch(f, start, options.step ?? 0.5, tolerance, maxEvaluations);
  for (let restart = 0; restart < 4; restart += 1) {
    const next = simplexSearch(f, best.at, 0.1 * (options.step ?? 0.5), tolerance, maxEvaluations);
    const gain = best.value - next.value;
    const evaluations = best.evaluations + next.evaluations;
    best = gain > 0 ? { ...next, evaluations } : { ...best, evaluations };
    if (gain < 10 * tolerance) break;
  }
  return best;
}

function simplexSearch(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  step: number,
  tolerance: number,
  maxEvaluations: number,
): Minimum {
  const n = start.length;
  let evaluations = 0;
  const evaluate = (at: readonly number[]): { at: readonly number[]; value: number } => {
    evaluations += 1;
    const value = f(at);
    return { at, value: Number.isNaN(value) ? Infinity : value };
  };
  const simplex = [evaluate(start)];
  for (let i = 0; i < n; i += 1) simplex.push(evaluate(start.map((x, j) => (i === j ? x + step : x))));
  const ordered = (): void => void simplex.sort((a, b) => a.value - b.value);
  ordered();
  let converged = false;
  while (evaluations < maxEvaluations) {
    const worst = simplex[n]!;
    const first = simplex[0]!;
    const spread = Math.max(...first.at.map((x, j) => Math.abs(worst.at[j]! - x)));
    if (Math.abs(worst.value - first.value) < tolerance && spread < 1e-7 * (1 + Math.max(...first.at.map(Math.abs)))) {
      converged = true;
      break;
    }
    const centre = start.map((_, j) => simplex.slice(0, n).reduce((sum, p) => sum + p.at[j]!, 0) / n);
    const along = (t: number): readonly number[] => centre.map((c, j) => c + t * (worst.at[j]! - c));
    const reflected = evaluate(along(-1));
    if (reflected.value < first.value) {
      const expanded = evaluate(along(-2));
      simplex[n] = expanded.value < reflected.value ? expanded : reflected;
    } else if (reflected.value < simplex[n - 1]!.value) {
      simplex[n] = reflected;
    } else {
      const contracted = evaluate(along(reflected.value < worst.value ? -0.5 : 0.5));
      if (contracted.value < Math.min(worst.value, reflected.value)) simplex[n] = contracted;
      else
        for (let i = 1; i <= n; i += 1) {
          const point = simplex[i]!.at;
          simplex[i] = evaluate(first.at.map((x, j) => x + 0.5 * (point[j]! - x)));
        }
    }
    ordered();
  }
  return { at: simplex[0]!.at, value: simplex[0]!.value, evaluations, converged };
}
