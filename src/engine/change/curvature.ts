// Is one power law over speed good enough here? Two checks that only warn: curvature inside runs, and the break near 180 spm,
// above which step rate climbs faster with speed (review, PMC8523042, abstract: about 3.0 steps/s in runners of all levels).
import type { Warning } from "../quantities/problem.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { inverseFromCholesky, choleskyInPlace, solveLowerInPlace, solveLowerTransposeInPlace } from "./dense.ts";
import { prepareGroupProducts } from "./group-products.ts";
import { collapse, remlCriterion } from "./mixed-model-criterion.ts";
import type { ModelRun } from "./matched-speed-model.ts";
import type { PreparedRun } from "./prepare-runs.ts";

const BREAK_SPM = 180;
/** A wide limit: with noisy speeds a t of 2 is common. */
const CURVATURE_T = 3.5;
const LEAST_MINUTES = 20;

/** Warnings only; the answer itself is not changed. */
export function checkCurvature(runs: readonly ModelRun[], rho: number, prepared: readonly PreparedRun[]): Warning[] {
  const warnings: Warning[] = [];
  const minutes = prepared.flatMap((run) => run.minutes);
  const above = minutes.filter((minute) => Math.exp(minute.lnStepRate) > BREAK_SPM).length / minutes.length;
  if (above > 0.1 && above < 0.9)
    warnings.push({
      code: "break-near-180",
      message:
        "The minutes lie on both sides of 180 spm, where step rate often begins to climb faster with speed: compare at easy speeds.",
    });
  const t = curvatureT(runs, rho);
  if (Math.abs(t) > CURVATURE_T)
    warnings.push({
      code: "curved-over-speed",
      message:
        "Step rate bends over speed inside these runs: the comparison is most trustworthy where both sides ran the same speeds.",
    });
  return warnings;
}

/** t value of a quadratic term in ln speed, every run with its own level. 0 when it cannot be told. */
export function curvatureT(runs: readonly ModelRun[], rho: number): number {
  const n = runs.reduce((sum, run) => sum + run.timeS.length, 0);
  if (n < LEAST_MINUTES) return 0;
  const grand = runs.flatMap((run) => run.lnSpeed).reduce((a, b) => a + b, 0) / n;
  const linear = runs.flatMap((run) => run.lnSpeed.map((x) => x - grand));
  const spread = Math.sqrt(linear.reduce((sum, x) => sum + x * x, 0) / n);
  if (spread < 0.01) return 0;
  const model = collapse(
    prepareGroupProducts({
      y: runs.flatMap((run) => run.response),
      fixed: [linear.map((x) => x / spread), linear.map((x) => (x / spread) ** 2)],
      random: [linear.map(() => 1)],
      group: runs.flatMap((run, g) => run.timeS.map(() => g)),
      time: runs.flatMap((run) => run.timeS.map((s) => s / SECONDS_PER_MINUTE)),
    })(rho),
    [1e4],
  );
  const factor = model.xx.slice();
  if (choleskyInPlace(factor, 2) === -Infinity) return 0;
  const fixed = model.xy.slice();
  solveLowerInPlace(factor, 2, fixed);
  solveLowerTransposeInPlace(factor, 2, fixed);
  const { sigma2 } = remlCriterion({ ...model, rowCount: n - runs.length });
  return fixed[1]! / Math.sqrt(sigma2 * inverseFromCholesky(factor, 2)[3]!);
}
