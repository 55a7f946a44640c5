// Beat lanes: which runners one beat can serve. Rules L1 (fewest beats), L2 (caps) and L3 (a fixed number of speakers).
import { type AdviceSettings, defaultSettings } from "../target/settings.ts";
import {
  bestBeat,
  greatestDeviation,
  leastDeviationPartition,
  type LaneRunner,
  pierce,
  reachOf,
} from "./lane-beats.ts";
import { coverBySpeed } from "./lane-speeds.ts";

export type { LaneRunner } from "./lane-beats.ts";

export interface LaneMember {
  readonly id: string;
  readonly targetSpm: number;
  /** (beat − target) / target: above 0 when the beat is quicker than the runner's own target. */
  readonly deviationShare: number;
}

export interface Lane {
  /** Both feet, one beat per step. */
  readonly beatSpm: number;
  readonly members: readonly LaneMember[];
  /** Present when lanes were made by speed: slowest and fastest member, m/s. */
  readonly speedMps?: { readonly low: number; readonly high: number };
}

export interface Unplaced {
  readonly id: string;
  readonly reason: "cap-below-tolerance" | "speed-unknown";
}

export interface Lanes {
  readonly lanes: readonly Lane[];
  readonly unplaced: readonly Unplaced[];
  /** Greatest |deviation| of any member, as a share. 0 without members. */
  readonly worstDeviationShare: number;
  /** False only for lanes by speed of a large group, where the search was cut short: then no proof that fewer will not do. */
  readonly provenFewest: boolean;
}

export interface LaneOptions {
  /** L1: share of the runner's target; the setting's default when absent. */
  readonly toleranceShare?: number;
  /** L3: that many beats at most, the smallest worst deviation; the tolerance is then ignored. */
  readonly speakerCount?: number;
  /** Members of a lane differ by at most this in speed, so that they can run together. Not together with speakerCount. */
  readonly speedBandMps?: number;
  /** True: beats are tenths wherever one is permitted, so that what is read is what sounds; deviations are those of the tenth. */
  readonly inTenths?: boolean;
  readonly settings?: AdviceSettings;
}

/**
 * Beats for a group, slowest first. Without speakerCount: the fewest beats that keep everyone within the tolerance
 * (L1) and nobody above their cap (L2); among those the smallest worst deviation, and a whole number where it serves.
 * With speakerCount: the smallest worst deviation that so many beats can reach (L3). Targets and caps in spm both feet.
 * A runner whose cap lies below every beat within tolerance is unplaced. O(n log n) for the fewest, 200 halvings of it
 * for the smallest deviation.
 */
export function makeLanes(runners: readonly LaneRunner[], options: LaneOptions = {}): Lanes {
  const toleranceShare = options.toleranceShare ?? (options.settings ?? defaultSettings).laneToleranceShare;
  check(runners, toleranceShare, options);
  if (options.speakerCount !== undefined) {
    const groups = leastDeviationPartition(runners, options.speakerCount);
    return collect(groups.map((members) => laneOf(beatFor(bestBeat(members), members, Infinity, options), members)));
  }
  const unplaced: Unplaced[] = [];
  const placed: LaneRunner[] = [];
  for (const runner of runners) {
    const reach = reachOf(runner, toleranceShare);
    if (reach.low > reach.high) unplaced.push({ id: runner.id, reason: "cap-below-tolerance" });
    else if (options.speedBandMps !== undefined && runner.speedMps === undefined)
      unplaced.push({ id: runner.id, reason: "speed-unknown" });
    else placed.push(runner);
  }
  if (options.speedBandMps !== undefined) {
    const cover = coverBySpeed(placed, toleranceShare, options.speedBandMps);
    const lanes = cover.groups.map((members) =>
      withSpeeds(laneOf(roundBeat(members, toleranceShare, options), members), members),
    );
    return { ...collect(lanes), unplaced, provenFewest: cover.proven };
  }
  const fewest = pierce(placed, toleranceShare).length;
  const groups = fewest === 0 ? [] : leastDeviationPartition(placed, fewest);
  return {
    ...collect(groups.map((members) => laneOf(roundBeat(members, toleranceShare, options), members))),
    unplaced,
  };
}

function check(runners: readonly LaneRunner[], toleranceShare: number, options: LaneOptions): void {
  if (!(toleranceShare >= 0 && toleranceShare < 1))
    throw new RangeError(`makeLanes: toleranceShare must be in [0, 1), got ${toleranceShare}`);
  const { speakerCount, speedBandMps } = options;
  if (speakerCount !== undefined && !(Number.isInteger(speakerCount) && speakerCount >= 1))
    throw new RangeError(`makeLanes: speakerCount must be a whole number from 1, got ${speakerCount}`);
  if (speedBandMps !== undefined && !(speedBandMps >= 0))
    throw new RangeError(`makeLanes: speedBandMps must be 0 or more, got ${speedBandMps}`);
  if (speakerCount !== undefined && speedBandMps !== undefined)
    throw new RangeError("makeLanes: give speakerCount or speedBandMps, not both");
  for (const runner of runners) {
    if (!(runner.targetSpm > 0 && runner.capSpm > 0))
      throw new RangeError(
        `makeLanes: target and cap must be above 0 spm, got ${runner.targetSpm} and ${runner.capSpm}`,
      );
  }
}

function laneOf(beatSpm: number, members: readonly LaneRunner[]): Lane {
  return {
    beatSpm,
    members: members
      .map(({ id, targetSpm }) => ({ id, targetSpm, deviationShare: (beatSpm - targetSpm) / targetSpm }))
      .sort((a, b) => a.targetSpm - b.targetSpm),
  };
}

function withSpeeds(lane: Lane, members: readonly LaneRunner[]): Lane {
  const speeds = members.map((member) => member.speedMps ?? 0);
  return { ...lane, speedMps: { low: Math.min(...speeds), high: Math.max(...speeds) } };
}

/** The target that all members share, else the best beat or the whole number nearest to it that every member may follow. */
function roundBeat(members: readonly LaneRunner[], toleranceShare: number, options: LaneOptions): number {
  const best = bestBeat(members);
  const low = Math.max(...members.map((member) => reachOf(member, toleranceShare).low));
  const high = Math.min(...members.map((member) => reachOf(member, toleranceShare).high));
  if (members.every(({ targetSpm }) => targetSpm === best)) return best;
  const whole = [Math.floor(best), Math.ceil(best)]
    .filter((beat) => beat >= low && beat <= high)
    .sort((a, b) => greatestDeviation(members, a) - greatestDeviation(members, b));
  return whole[0] ?? beatFor(Math.min(Math.max(best, low), high), members, toleranceShare, options);
}

/** The beat as it is, or the tenth beside it that no cap and no tolerance forbids. */
function beatFor(best: number, members: readonly LaneRunner[], toleranceShare: number, options: LaneOptions): number {
  if (options.inTenths !== true) return best;
  const low = Math.max(...members.map((member) => reachOf(member, toleranceShare).low));
  const high = Math.min(...members.map((member) => reachOf(member, toleranceShare).high));
  const tenths = [Math.round(best * 10), Math.floor(best * 10), Math.ceil(best * 10)].map((count) => count / 10);
  return tenths.find((beat) => beat >= low && beat <= high) ?? best;
}

function collect(lanes: readonly Lane[]): Lanes {
  const sorted = [...lanes].sort((a, b) => a.beatSpm - b.beatSpm);
  const deviations = sorted.flatMap((lane) => lane.members.map((member) => Math.abs(member.deviationShare)));
  return {
    lanes: sorted,
    unplaced: [],
    worstDeviationShare: deviations.reduce((worst, deviation) => Math.max(worst, deviation), 0),
    provenFewest: true,
  };
}
