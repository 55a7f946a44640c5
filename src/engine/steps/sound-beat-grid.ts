// Is something in the sound more regular than any runner? Looks for a machine's beat among the rises of each channel.
import { machineBeatSpreadS } from "../evidence/sound.ts";

export interface BeatGrid {
  readonly intervalS: number;
  /** One of the beats. */
  readonly beatS: number;
}

export interface FittedGrid extends BeatGrid {
  readonly hitCount: number;
  readonly slotCount: number;
  /** Root mean square distance of the hits from the grid. */
  readonly spreadS: number;
}

const SHORTEST_S = 0.24;
const LONGEST_S = 1.35;
/** Beat to beat, a click may seem to wander by this much: two timing errors. */
const PAIR_TOLERANCE_S = 0.003;
const VOTE_BIN_S = 0.002;
const LEAST_HITS = 12;
const LEAST_HIT_SHARE = 0.7;
const LEAST_SPAN_SHARE = 0.75;
const CANDIDATES = 3;

/**
 * The most regular grid in a channel's rise times, if one holds over most of the block: at least 70 % of its beats are
 * there (accents may be missing), at least 8, and they lie closer to it than any runner's steps would.
 */
export function fitBeatGrid(timesS: readonly number[], blockS: number): FittedGrid | undefined {
  let best: FittedGrid | undefined;
  for (const intervalS of likelyIntervals(timesS)) {
    const chain = longestChain(timesS, intervalS);
    if (chain.length < LEAST_HITS) continue;
    const fitted = fitLine(chain, intervalS);
    if (
      chain.at(-1)! - chain[0]! >= LEAST_SPAN_SHARE * blockS &&
      fitted.hitCount >= LEAST_HIT_SHARE * fitted.slotCount &&
      fitted.spreadS <= machineBeatSpreadS.value &&
      (best === undefined || fitted.hitCount > best.hitCount)
    )
      best = fitted;
  }
  return best;
}

/** Intervals between rises that occur most often. */
function likelyIntervals(timesS: readonly number[]): readonly number[] {
  const votes = new Float64Array(Math.ceil(LONGEST_S / VOTE_BIN_S) + 2);
  for (let first = 0; first < timesS.length; first += 1)
    for (let second = first + 1; second < timesS.length; second += 1) {
      const interval = timesS[second]! - timesS[first]!;
      if (interval > LONGEST_S) break;
      if (interval >= SHORTEST_S) votes[Math.round(interval / VOTE_BIN_S)]! += 1;
    }
  const around = votes.map((vote, bin) => vote + (votes[bin - 1] ?? 0) + (votes[bin + 1] ?? 0));
  const chosen: number[] = [];
  for (let turn = 0; turn < CANDIDATES; turn += 1) {
    let top = 0;
    for (let bin = 1; bin < around.length; bin += 1) if (around[bin]! > around[top]!) top = bin;
    if (around[top]! < LEAST_HITS / 2) break;
    const weight = around[top]!;
    const mean = ((votes[top - 1] ?? 0) * (top - 1) + votes[top]! * top + (votes[top + 1] ?? 0) * (top + 1)) / weight;
    chosen.push(mean * VOTE_BIN_S);
    around.fill(0, Math.max(0, top - 3), top + 4);
  }
  return chosen;
}

/** The most rises that follow each other by one or two intervals. */
function longestChain(timesS: readonly number[], intervalS: number): readonly number[] {
  const length = new Int32Array(timesS.length).fill(1);
  const back = new Int32Array(timesS.length).fill(-1);
  let end = 0;
  for (let index = 0; index < timesS.length; index += 1) {
    for (let before = index - 1; before >= 0; before -= 1) {
      const gap = timesS[index]! - timesS[before]!;
      if (gap > 2 * intervalS + PAIR_TOLERANCE_S) break;
      const beats = Math.round(gap / intervalS);
      if (beats < 1 || Math.abs(gap - beats * intervalS) > PAIR_TOLERANCE_S) continue;
      if (length[before]! + 1 > length[index]!) {
        length[index] = length[before]! + 1;
        back[index] = before;
      }
    }
    if (length[index]! > length[end]!) end = index;
  }
  const chain: number[] = [];
  for (let at = timesS.length > 0 ? end : -1; at >= 0; at = back[at]!) chain.push(timesS[at]!);
  return chain.reverse();
}

/** Least squares of time on beat number. */
function fitLine(chain: readonly number[], intervalS: number): FittedGrid {
  let beat = 0;
  const beats = chain.map((timeS, index) => {
    if (index > 0) beat += Math.round((timeS - chain[index - 1]!) / intervalS);
    return beat;
  });
  const n = chain.length;
  const meanBeat = beats.reduce((sum, value) => sum + value, 0) / n;
  const meanTime = chain.reduce((sum, value) => sum + value, 0) / n;
  let xx = 0;
  let xy = 0;
  beats.forEach((value, index) => {
    xx += (value - meanBeat) ** 2;
    xy += (value - meanBeat) * (chain[index]! - meanTime);
  });
  const slopeS = xy / xx;
  const beatS = meanTime - slopeS * meanBeat;
  let squares = 0;
  beats.forEach((value, index) => {
    squares += (chain[index]! - beatS - slopeS * value) ** 2;
  });
  return { intervalS: slopeS, beatS, hitCount: n, slotCount: beat + 1, spreadS: Math.sqrt(squares / n) };
}
