// Adaptive integration of small systems of ordinary differential equations until an event: Dormand & Prince 1980
// (J. Comput. Appl. Math. 6:19–26), fifth order with a fourth-order error estimate.

export type Derivative = (timeS: number, state: readonly number[]) => readonly number[];

export interface IntegrateOptions {
  /** Stops where this crosses from negative to positive. */
  readonly until: (timeS: number, state: readonly number[]) => number;
  readonly maxTimeS: number;
  /** Local error allowed, relative to 1 + |state|. Default 1e-10. */
  readonly tolerance?: number;
}

export interface IntegrationEnd {
  readonly timeS: number;
  readonly state: readonly number[];
  /** False when maxTimeS came first. */
  readonly reached: boolean;
  readonly stepCount: number;
}

const NODES = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1] as const;
const STAGES: readonly (readonly number[])[] = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const ERROR = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40] as const;

function stepOnce(
  f: Derivative,
  timeS: number,
  state: readonly number[],
  h: number,
): { next: number[]; error: number } {
  const slopes: (readonly number[])[] = [];
  let next: number[] = [...state];
  for (let stage = 0; stage < 7; stage += 1) {
    next = state.map((x, i) => x + h * STAGES[stage]!.reduce((sum, a, k) => sum + a * slopes[k]![i]!, 0));
    slopes.push(f(timeS + NODES[stage]! * h, next));
  }
  const error = Math.max(
    ...state.map((x, i) => Math.abs(h * ERROR.reduce((sum, e, k) => sum + e * slopes[k]![i]!, 0)) / (1 + Math.abs(x))),
  );
  return { next, error };
}

/** Integrates from time 0. The event is located by bisection of the last step, to 1e-13 of the step. */
export function integrateUntil(f: Derivative, start: readonly number[], options: IntegrateOptions): IntegrationEnd {
  const tolerance = options.tolerance ?? 1e-10;
  let timeS = 0;
  let state: readonly number[] = start;
  let h = options.maxTimeS / 200;
  let stepCount = 0;
  while (timeS < options.maxTimeS && stepCount < 100_000) {
    const { next, error } = stepOnce(f, timeS, state, h);
    const shrink = error > 0 ? 0.9 * (tolerance / error) ** 0.2 : 4;
    if (error > tolerance) {
      h *= Math.max(0.2, shrink);
      continue;
    }
    stepCount += 1;
    if (options.until(timeS + h, next) > 0) {
      let [low, high] = [0, h];
      for (let k = 0; k < 44; k += 1) {
        const middle = (low + high) / 2;
        if (options.until(timeS + middle, stepOnce(f, timeS, state, middle).next) > 0) high = middle;
        else low = middle;
      }
      return { timeS: timeS + high, state: stepOnce(f, timeS, state, high).next, reached: true, stepCount };
    }
    timeS += h;
    state = next;
    h *= Math.min(4, Math.max(0.2, shrink));
  }
  return { timeS, state, reached: false, stepCount };
}
