// A metronome in the recording: in which parts, and exactly when it beats.
import { hzToSpm } from "../quantities/units.ts";
import { type BeatGrid, type FittedGrid, fitBeatGrid } from "./sound-beat-grid.ts";
import { type ChannelPeaks, channelPeaks } from "./sound-clicks.ts";

export interface BeatPart {
  readonly startS: number;
  readonly endS: number;
  readonly grid: BeatGrid;
}

const BLOCK_S = 20;
/** Too short to tell a machine from a steady runner. */
const SHORTEST_S = 6;
/** A long recording is sampled first, and looked through only when something is found. */
const SAMPLED_BLOCKS = 12;
const SAME_INTERVAL_SHARE = 0.003;
const SAME_BEAT_S = 0.006;
/** One channel alone must show this many beats; two that agree vouch for each other. */
const LONE_HITS = 24;
/** Share of the beats in between that another channel must fill to halve the interval. */
const HALF_SHARE = 0.6;
const HALF_TOLERANCE_S = 0.004;

/** Parts with a machine's beat, ascending; none when there is no metronome. Cost: about 15 ms a second of sound looked at. */
export function findBeats(samples: Float32Array, sampleRateHz: number): readonly BeatPart[] {
  const durationS = samples.length / sampleRateHz;
  if (durationS < SHORTEST_S) return [];
  const count = Math.max(1, Math.round(durationS / BLOCK_S));
  const found = new Map<number, BeatPart | undefined>();
  const look = (block: number): BeatPart | undefined => {
    const startS = (block * durationS) / count;
    const endS = ((block + 1) * durationS) / count;
    const part = found.has(block) ? found.get(block) : beatOfBlock(samples, sampleRateHz, startS, endS);
    found.set(block, part);
    return part;
  };
  const sampled = Array.from({ length: Math.min(count, SAMPLED_BLOCKS) }, (_, index) =>
    Math.floor(((index + 0.5) * count) / Math.min(count, SAMPLED_BLOCKS)),
  );
  if (sampled.every((block) => look(block) === undefined)) return [];
  return Array.from({ length: count }, (_, block) => look(block)).filter((part) => part !== undefined);
}

export function beatsPerMinute(grid: BeatGrid): number {
  return hzToSpm(1 / grid.intervalS);
}

function beatOfBlock(samples: Float32Array, sampleRateHz: number, startS: number, endS: number): BeatPart | undefined {
  const block = samples.subarray(Math.round(startS * sampleRateHz), Math.round(endS * sampleRateHz));
  const channels = channelPeaks(block, sampleRateHz);
  const grids = channels
    .map((channel) => fitBeatGrid(channel.timesS, endS - startS))
    .filter((grid) => grid !== undefined)
    .toSorted((a, b) => b.hitCount - a.hitCount);
  const best = grids.find((grid) => grid.hitCount >= LONE_HITS || grids.some((other) => vouches(other, grid)));
  if (best === undefined) return undefined;
  const grid = hasBeatsBetween(channels, best) ? { ...best, intervalS: best.intervalS / 2 } : best;
  return { startS, endS, grid: { intervalS: grid.intervalS, beatS: startS + grid.beatS } };
}

function vouches(other: FittedGrid, grid: FittedGrid): boolean {
  if (other === grid || Math.abs(other.intervalS / grid.intervalS - 1) > SAME_INTERVAL_SHARE) return false;
  const turns = (other.beatS - grid.beatS) / grid.intervalS;
  return Math.abs(turns - Math.round(turns)) * grid.intervalS < SAME_BEAT_S;
}

/** Accented beats may sound in a channel of their own: then the one found shows only every second beat. */
function hasBeatsBetween(channels: readonly ChannelPeaks[], grid: FittedGrid): boolean {
  return channels.some(({ timesS }) => {
    const filled = new Set<number>();
    for (const timeS of timesS) {
      const turn = (timeS - grid.beatS) / grid.intervalS - 0.5;
      if (Math.abs(turn - Math.round(turn)) * grid.intervalS < HALF_TOLERANCE_S) filled.add(Math.round(turn));
    }
    return filled.size >= HALF_SHARE * grid.slotCount && filled.size > 0.5 * timesS.length;
  });
}
