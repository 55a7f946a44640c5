// Newton's method for a few equations in as many unknowns, derivatives by differences, steps halved until the misfit shrinks.
import { LuDecomposition, Matrix } from "ml-matrix";

/** Root of `f` near `start`; undefined when it does not get there. `f` may return undefined where it has no value. */
export function solveSystem(
  f: (x: readonly number[]) => readonly number[] | undefined,
  start: readonly number[],
  tolerance = 1e-9,
): readonly number[] | undefined {
  const size = (values: readonly number[]): number => Math.hypot(...values);
  let x = start;
  let value = f(x);
  for (let iteration = 0; iteration < 60 && value !== undefined; iteration += 1) {
    if (size(value) < tolerance) return x;
    const current = value;
    const columns = x.map((xi, i) => {
      const h = 1e-6 * Math.max(Math.abs(xi), 1e-3);
      const moved = f(x.map((xj, j) => (i === j ? xj + h : xj)));
      return moved?.map((m, row) => (m - current[row]!) / h);
    });
    if (columns.some((column) => column === undefined)) return undefined;
    const jacobian = new Matrix(current.map((_, row) => columns.map((column) => column![row]!)));
    const lu = new LuDecomposition(jacobian);
    if (lu.isSingular()) return undefined;
    const step = lu.solve(Matrix.columnVector([...current])).to1DArray();
    let share = 1;
    let next: readonly number[] | undefined;
    for (; share > 1e-4; share /= 2) {
      const at = x.map((xi, i) => xi - share * step[i]!);
      next = f(at);
      if (next !== undefined && size(next) < size(current)) {
        x = at;
        break;
      }
    }
    if (share <= 1e-4) return undefined;
    value = next;
  }
  return undefined;
}
