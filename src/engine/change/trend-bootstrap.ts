// How far a trend can be off when neighbouring minutes are alike: a post-blackened block bootstrap (Davison & Hinkley 1997, section 8.2.3,
// from memory). The memory from minute to minute is taken out, what is left is resampled in blocks, and the memory is put back. With a
// dozen minutes that memory is hardly known: each repeat draws one, and a size of the noise, as likely as the minutes make it.
import { createRandom, type Random } from "../quantities/random.ts";
import { type BlockBootstrapOptions, blockResamples } from "./block-bootstrap.ts";
import { prepareGroupProducts } from "./group-products.ts";
import { collapse, remlCriterion } from "./mixed-model-criterion.ts";

/** Correlation of residuals a minute apart, from none to nearly all. */
const RHOS = Array.from({ length: 24 }, (_, k) => 0.04 * (k + 1));
/** Prior weight of a correlation, Beta(3, 1.5): minutes of running are alike, but not without end (ours). */
const priorWeight = (rho: number): number => rho ** 2 * Math.sqrt(1 - rho);
const BLOCK_MINUTES = 3;

/**
 * Errors of a trend estimator: its answers on `repeats` series with no trend and the noise of `values` (around their straight line) at
 * times `timeMin`, in minutes, increasing. Needs five values. The same seed gives the same errors.
 */
export function trendErrors(
  timeMin: readonly number[],
  values: readonly number[],
  slopeOf: (y: readonly number[]) => number,
  options: Pick<BlockBootstrapOptions, "seed" | "repeats">,
): Float64Array {
  const n = values.length;
  if (n < 5) throw new RangeError(`trendErrors: needs five values, got ${n}`);
  const random = createRandom(options.seed);
  const memory = memoryOf(timeMin, values);
  const residual = detrended(timeMin, values);
  const gaps = timeMin.map((t, i) => (i === 0 ? 0 : t - timeMin[i - 1]!));
  const lists = blockResamples(n, { ...options, blockLength: BLOCK_MINUTES });
  return Float64Array.from(lists, (indices) => {
    const { rho, sigma } = draw(memory, random);
    const noise = sigma * Math.sqrt((n - 2) / chiSquare(n - 2, random));
    const shocks = standardised(residual.map((value, i) => innovation(value, residual[i - 1], rho, gaps[i]!)));
    let level = 0;
    return slopeOf(
      gaps.map((gap, i) => {
        const kept = i === 0 ? 0 : rho ** gap;
        level = kept * level + Math.sqrt(1 - kept ** 2) * noise * shocks[indices[i]!]!;
        return level;
      }),
    );
  });
}

interface Memory {
  readonly rho: number;
  readonly sigma: number;
  readonly weight: number;
}

/** Restricted likelihood of each correlation with a straight line taken off, and the residual SD that goes with it. */
function memoryOf(timeMin: readonly number[], values: readonly number[]): Memory[] {
  const prepare = prepareGroupProducts({
    y: values,
    fixed: [timeMin.map(() => 1), timeMin.map((t) => t - timeMin[0]!)],
    random: [],
    group: timeMin.map(() => 0),
    time: timeMin,
  });
  const points = RHOS.map((rho) => {
    const { criterion, sigma2 } = remlCriterion(collapse(prepare(rho), []));
    return { rho, sigma: Math.sqrt(sigma2), logWeight: Math.log(priorWeight(rho)) - criterion / 2 };
  });
  const top = Math.max(...points.map(({ logWeight }) => logWeight));
  const raw = points.map(({ logWeight }) => Math.exp(logWeight - top));
  const sum = raw.reduce((a, b) => a + b, 0);
  return points.map(({ rho, sigma }, k) => ({ rho, sigma, weight: raw[k]! / sum }));
}

function draw(memory: readonly Memory[], random: Random): Memory {
  let left = random.next();
  for (const point of memory) {
    left -= point.weight;
    if (left <= 0) return point;
  }
  return memory.at(-1)!;
}

function detrended(timeMin: readonly number[], values: readonly number[]): number[] {
  const n = values.length;
  const [t0, y0] = [timeMin.reduce((a, b) => a + b, 0) / n, values.reduce((a, b) => a + b, 0) / n];
  const xx = timeMin.reduce((sum, t) => sum + (t - t0) ** 2, 0);
  const slope = timeMin.reduce((sum, t, i) => sum + (t - t0) * (values[i]! - y0), 0) / xx;
  return values.map((value, i) => value - y0 - slope * (timeMin[i]! - t0));
}

function innovation(value: number, before: number | undefined, rho: number, gap: number): number {
  if (before === undefined) return value;
  const kept = rho ** gap;
  return (value - kept * before) / Math.sqrt(1 - kept ** 2);
}

/** Mean 0 and standard deviation 1; all zero stays zero. */
function standardised(values: readonly number[]): number[] {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const sd = Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length);
  return values.map((x) => (sd > 0 ? (x - mean) / sd : 0));
}

function chiSquare(df: number, random: Random): number {
  let sum = 0;
  for (let k = 0; k < df; k += 1) sum += random.normal() ** 2;
  return sum;
}
