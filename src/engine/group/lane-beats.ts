// The arithmetic under lanes: which beats a runner can follow, and how few points meet a set of intervals.

export interface LaneRunner {
  readonly id: string;
  /** Both feet. */
  readonly targetSpm: number;
  readonly capSpm: number;
  readonly speedMps?: number;
}

export interface Reach {
  readonly low: number;
  readonly high: number;
}

/** Beats within the tolerance of a runner's target and not above the cap; low > high when there is none. */
export function reachOf(runner: LaneRunner, toleranceShare: number): Reach {
  return {
    low: runner.targetSpm * (1 - toleranceShare),
    high: Math.min(runner.targetSpm * (1 + toleranceShare), runner.capSpm),
  };
}

/**
 * Fewest groups such that one beat serves each group: intervals in order of their upper ends, a new beat at the upper
 * end of the first that is not met yet. Optimal, since the runners that open a group have disjoint intervals.
 * Expects low ≤ high for each.
 */
export function pierce(runners: readonly LaneRunner[], toleranceShare: number): LaneRunner[][] {
  const byHigh = runners
    .map((runner) => ({ runner, ...reachOf(runner, toleranceShare) }))
    .sort((a, b) => a.high - b.high);
  const groups: LaneRunner[][] = [];
  let beat = -Infinity;
  for (const { runner, low, high } of byHigh) {
    if (low > beat) {
      beat = high;
      groups.push([]);
    }
    groups.at(-1)?.push(runner);
  }
  return groups;
}

/** The permitted beat with the smallest worst deviation: |b − t| / t is equal at both ends at b = 2 t1 t2 / (t1 + t2). */
export function bestBeat(members: readonly LaneRunner[]): number {
  const low = Math.min(...members.map((member) => member.targetSpm));
  const high = Math.max(...members.map((member) => member.targetSpm));
  const cap = Math.min(...members.map((member) => member.capSpm));
  // Written so that equal ends give exactly that target.
  const middle = low === high ? low : (2 * low * high) / (low + high);
  return Math.min(middle, cap);
}

export function greatestDeviation(members: readonly LaneRunner[], beatSpm: number): number {
  return members.reduce((worst, { targetSpm }) => Math.max(worst, Math.abs(beatSpm - targetSpm) / targetSpm), 0);
}

/**
 * At most `count` groups with the smallest worst deviation. A tolerance is enough or not, and enough stays enough as it
 * grows, so halving finds the smallest; it is then read exactly from the groups. Not more groups than there is use for.
 */
export function leastDeviationPartition(runners: readonly LaneRunner[], count: number): LaneRunner[][] {
  if (runners.length === 0) return [];
  let enough = bestSingle(runners);
  let groups = [[...runners]];
  let tooSmall = 0;
  const attempt = (toleranceShare: number): LaneRunner[][] | null => {
    if (runners.some((runner) => runner.targetSpm * (1 - toleranceShare) > runner.capSpm)) return null;
    const made = pierce(runners, toleranceShare);
    return made.length <= count ? made : null;
  };
  const exact = attempt(0);
  if (exact !== null) return exact;
  for (let halving = 0; halving < 200; halving += 1) {
    const middle = (tooSmall + enough) / 2;
    if (middle <= tooSmall || middle >= enough) break;
    const made = attempt(middle);
    if (made === null) tooSmall = middle;
    else {
      groups = made;
      // The groups themselves may do better than the tolerance that found them.
      enough = Math.min(middle, Math.max(...made.map(bestSingle)));
    }
  }
  return groups;
}

function bestSingle(members: readonly LaneRunner[]): number {
  return greatestDeviation(members, bestBeat(members));
}
