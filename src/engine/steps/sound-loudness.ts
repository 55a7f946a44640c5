// Does the sound of the contacts get louder or quieter through the clip? Relative only: it is not a measure of load.
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { type NotEnough, type Uncertain } from "../quantities/uncertain.ts";
import { soundIsNotLoad } from "../evidence/sound.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { type SoundBands } from "./sound-bands.ts";

export interface LoudnessTrend {
  /** Change of contact loudness, dB a minute; positive: getting louder. */
  readonly changeDbPerMin: Uncertain | NotEnough;
  /** To be shown wherever the number is. */
  readonly caveat: string;
}

const LEAST_CONTACTS = 60;
const LEAST_SPAN_S = 30;
/** From a little before the contact to when its sound has died away. */
const BEFORE_S = 0.03;
const AFTER_S = 0.12;

/**
 * Slope of the contacts' loudness (mean power from 30 ms before to 120 ms after, 60 Hz to 8 kHz, dB) against time, least squares over
 * block means of 20 contacts, whose scatter gives the standard error. Steady background is in it, so a
 * real change looks smaller in noise; automatic gain in a phone hides or feigns changes. Needs 60 contacts over 30 s.
 */
export function loudnessTrend(bands: SoundBands, contactTimesS: readonly number[]): LoudnessTrend {
  const caveat = soundIsNotLoad.note;
  const spanS = contactTimesS.length > 1 ? contactTimesS.at(-1)! - contactTimesS[0]! : 0;
  if (contactTimesS.length < LEAST_CONTACTS || spanS < LEAST_SPAN_S)
    return {
      changeDbPerMin: {
        kind: "not-enough",
        need: `${LEAST_CONTACTS} contacts over ${LEAST_SPAN_S} s`,
        have: `${contactTimesS.length} contacts over ${Math.round(spanS)} s`,
      },
      caveat,
    };
  return { changeDbPerMin: slope(blockMeans(bands, contactTimesS)), caveat };
}

interface BlockMean {
  readonly timeMin: number;
  readonly levelDb: number;
}

function blockMeans(bands: SoundBands, contactTimesS: readonly number[]): readonly BlockMean[] {
  const perBlock = 20;
  const blocks: BlockMean[] = [];
  for (let start = 0; start + perBlock <= contactTimesS.length; start += perBlock) {
    let timeMin = 0;
    let levelDb = 0;
    for (let index = start; index < start + perBlock; index += 1) {
      timeMin += contactTimesS[index]! / SECONDS_PER_MINUTE / perBlock;
      levelDb += contactLevelDb(bands, contactTimesS[index]!) / perBlock;
    }
    blocks.push({ timeMin, levelDb });
  }
  return blocks;
}

function contactLevelDb(bands: SoundBands, timeS: number): number {
  const from = Math.max(0, Math.round((timeS - BEFORE_S) * bands.frameRateHz));
  const to = Math.min(bands.frameCount - 1, Math.round((timeS + AFTER_S) * bands.frameRateHz));
  let power = 1e-12;
  for (const band of bands.power) for (let frame = from; frame <= to; frame += 1) power += band[frame]!;
  return 10 * Math.log10(power / (to - from + 1));
}

function slope(blocks: readonly BlockMean[]): Uncertain {
  const n = blocks.length;
  const meanTime = blocks.reduce((sum, block) => sum + block.timeMin, 0) / n;
  const meanLevel = blocks.reduce((sum, block) => sum + block.levelDb, 0) / n;
  let xx = 0;
  let xy = 0;
  for (const { timeMin, levelDb } of blocks) {
    xx += (timeMin - meanTime) ** 2;
    xy += (timeMin - meanTime) * (levelDb - meanLevel);
  }
  const estimate = xy / xx;
  const residual = blocks.reduce(
    (sum, block) => sum + (block.levelDb - meanLevel - estimate * (block.timeMin - meanTime)) ** 2,
    0,
  );
  const standardError = Math.sqrt(residual / (n - 2) / xx);
  const half = tQuantile(0.975, n - 2) * standardError;
  return {
    estimate,
    standardError,
    interval95: { low: estimate - half, high: estimate + half },
    sampleCount: n,
    method: "least squares over means of 20 contacts",
  };
}
