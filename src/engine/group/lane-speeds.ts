// Lanes whose members can also run together: a beat within reach of all, speeds within a band. Fewest such lanes.
import { type LaneRunner, reachOf } from "./lane-beats.ts";

export interface SpeedCover {
  readonly groups: readonly (readonly LaneRunner[])[];
  readonly proven: boolean;
}

const SEARCH_STEPS = 200_000;

/**
 * Fewest groups such that each shares a beat within the tolerance and its speeds differ by at most the band. Some best
 * answer uses beats at upper ends of reach and bands that begin at a member's speed, so these candidates are enough;
 * the fewest of them that cover everyone is found by branching on the runner with the fewest candidates. The search is
 * bounded: past the bound the best found so far is returned, marked unproven. Every runner has a speed.
 */
export function coverBySpeed(runners: readonly LaneRunner[], toleranceShare: number, bandMps: number): SpeedCover {
  const candidates = candidateSets(runners, toleranceShare, bandMps);
  const holders = runners.map((_, index) => candidates.filter((set) => set.has(index)));
  let best = greedyCover(candidates, runners.length);
  let steps = 0;
  let proven = true;
  const largest = Math.max(1, ...candidates.map((set) => set.size));
  const search = (chosen: readonly ReadonlySet<number>[], open: ReadonlySet<number>): void => {
    if (open.size === 0) {
      if (chosen.length < best.length) best = [...chosen];
      return;
    }
    // No cover of what is open can use fewer sets than this.
    if (chosen.length + Math.ceil(open.size / largest) >= best.length) return;
    steps += 1;
    if (steps > SEARCH_STEPS) {
      proven = false;
      return;
    }
    let hardest = -1;
    for (const index of open) if (hardest < 0 || holders[index]!.length < holders[hardest]!.length) hardest = index;
    const options = [...holders[hardest]!].sort((a, b) => countIn(b, open) - countIn(a, open));
    for (const set of options) search([...chosen, set], without(open, set));
  };
  search([], new Set(runners.keys()));
  return { groups: assign(best, runners), proven };
}

/** Maximal sets of runners that one beat and one speed band serve. */
function candidateSets(runners: readonly LaneRunner[], toleranceShare: number, bandMps: number): ReadonlySet<number>[] {
  const reaches = runners.map((runner) => reachOf(runner, toleranceShare));
  const beats = [...new Set(reaches.map((reach) => reach.high))];
  const starts = [...new Set(runners.map((runner) => runner.speedMps ?? 0))];
  const sets = new Map<string, ReadonlySet<number>>();
  for (const beat of beats) {
    for (const start of starts) {
      const members = runners.flatMap((runner, index) => {
        const reach = reaches[index]!;
        const speed = runner.speedMps ?? 0;
        // The allowance keeps 2.8 + 0.2 from missing a runner at 3.0 through binary fractions.
        return beat >= reach.low && beat <= reach.high && speed >= start && speed <= start + bandMps + 1e-9
          ? [index]
          : [];
      });
      if (members.length > 0) sets.set(members.join(), new Set(members));
    }
  }
  const all = [...sets.values()].sort((a, b) => b.size - a.size);
  const maximal: ReadonlySet<number>[] = [];
  for (const set of all) {
    if (!maximal.some((larger) => [...set].every((index) => larger.has(index)))) maximal.push(set);
  }
  return maximal;
}

function greedyCover(candidates: readonly ReadonlySet<number>[], runnerCount: number): ReadonlySet<number>[] {
  let open: ReadonlySet<number> = new Set(Array.from({ length: runnerCount }, (_, index) => index));
  const chosen: ReadonlySet<number>[] = [];
  while (open.size > 0) {
    const next = candidates.reduce((best, set) => (countIn(set, open) > countIn(best, open) ? set : best));
    chosen.push(next);
    open = without(open, next);
  }
  return chosen;
}

/** Each runner into the first chosen set that holds them; every set keeps at least one, or it would not be needed. */
function assign(sets: readonly ReadonlySet<number>[], runners: readonly LaneRunner[]): LaneRunner[][] {
  const groups = sets.map((): LaneRunner[] => []);
  for (const [index, runner] of runners.entries()) groups[sets.findIndex((set) => set.has(index))]?.push(runner);
  return groups.filter((group) => group.length > 0);
}

function countIn(set: ReadonlySet<number>, open: ReadonlySet<number>): number {
  let count = 0;
  for (const index of set) if (open.has(index)) count += 1;
  return count;
}

function without(open: ReadonlySet<number>, set: ReadonlySet<number>): ReadonlySet<number> {
  return new Set([...open].filter((index) => !set.has(index)));
}
