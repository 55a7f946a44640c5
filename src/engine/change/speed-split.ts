// How a change of speed divides into step rate and step length: ln(v2/v1) = ln(f2/f1) + ln(L2/L1), an identity.
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import { t95 } from "./student-t.ts";

export interface SpeedSplit {
  /** ln(v2/v1) and its two parts; lnSpeed = lnStepRate + lnStepLength exactly. */
  readonly lnSpeed: number;
  readonly lnStepRate: number;
  readonly lnStepLength: number;
  /** Parts of the whole, adding to 1; not enough when the speed hardly changed. May lie outside 0–1 when the parts pull against each other. */
  readonly stepRateShare: number | NotEnough;
  readonly stepLengthShare: number | NotEnough;
  /** The same three with 95 % intervals from the spread between runs; not enough with a single run on a side. */
  readonly uncertain:
    | { readonly lnSpeed: Uncertain; readonly lnStepRate: Uncertain; readonly lnStepLength: Uncertain }
    | NotEnough;
}

/** Mean logarithms of one run. */
export interface RunMeans {
  readonly lnSpeed: number;
  readonly lnStepRate: number;
}

/** Below a speed change of 1 % the shares are noise divided by nothing (our own limit). */
const SMALLEST_LN_SPEED = 0.01;

/**
 * The split between two speeds and step rates, both positive. Step length follows: L = 60 v / f.
 * Source: identity; worked values in check values 3 and 15.
 */
export function splitOf(
  before: { readonly speedMps: number; readonly stepRateSpm: number },
  after: { readonly speedMps: number; readonly stepRateSpm: number },
): SpeedSplit {
  const means = (side: { readonly speedMps: number; readonly stepRateSpm: number }): RunMeans[] => {
    if (!(side.speedMps > 0 && side.stepRateSpm > 0))
      throw new RangeError("splitOf: speedMps and stepRateSpm must be positive");
    return [{ lnSpeed: Math.log(side.speedMps), lnStepRate: Math.log(side.stepRateSpm) }];
  };
  return speedSplit(means(before), means(after));
}

/** The split between two sets of runs; every run counts once. At least one run a side. */
export function speedSplit(before: readonly RunMeans[], after: readonly RunMeans[]): SpeedSplit {
  if (before.length === 0 || after.length === 0) throw new RangeError("speedSplit: needs at least one run a side");
  const lnSpeed = difference(before, after, (run) => run.lnSpeed);
  const lnStepRate = difference(before, after, (run) => run.lnStepRate);
  const lnStepLength = lnSpeed - lnStepRate;
  const tiny = Math.abs(lnSpeed) < SMALLEST_LN_SPEED;
  const notEnough: NotEnough = {
    kind: "not-enough",
    need: "a speed change of at least 1 %",
    have: `${(100 * Math.expm1(lnSpeed)).toFixed(1)} %`,
  };
  const enoughRuns = before.length >= 2 && after.length >= 2;
  const uncertain = enoughRuns
    ? {
        lnSpeed: welch(before, after, (run) => run.lnSpeed),
        lnStepRate: welch(before, after, (run) => run.lnStepRate),
        lnStepLength: welch(before, after, (run) => run.lnSpeed - run.lnStepRate),
      }
    : ({
        kind: "not-enough",
        need: "two runs on each side",
        have: `${before.length} before, ${after.length} after`,
      } as const);
  return {
    lnSpeed,
    lnStepRate,
    lnStepLength,
    stepRateShare: tiny ? notEnough : lnStepRate / lnSpeed,
    stepLengthShare: tiny ? notEnough : 1 - lnStepRate / lnSpeed,
    uncertain,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

function difference(before: readonly RunMeans[], after: readonly RunMeans[], of: (run: RunMeans) => number): number {
  return mean(after.map(of)) - mean(before.map(of));
}

/** Difference of means with unequal variances: Welch 1947 (Biometrika 34:28–35, from memory). */
function welch(before: readonly RunMeans[], after: readonly RunMeans[], of: (run: RunMeans) => number): Uncertain {
  const side = (runs: readonly RunMeans[]): { variance: number; df: number } => {
    const values = runs.map(of);
    const centre = mean(values);
    const variance = values.reduce((sum, x) => sum + (x - centre) ** 2, 0) / (values.length - 1);
    return { variance: variance / values.length, df: values.length - 1 };
  };
  const [a, b] = [side(before), side(after)];
  const estimate = difference(before, after, of);
  const variance = a.variance + b.variance;
  const standardError = Math.sqrt(variance);
  const df = variance > 0 ? variance ** 2 / (a.variance ** 2 / a.df + b.variance ** 2 / b.df) : a.df + b.df;
  const half = t95(df) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: before.length + after.length,
    method: "difference of run means, Welch interval over runs",
  };
}
