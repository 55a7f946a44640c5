// From a run's windows to its steady minutes: the rows of every comparison. A minute is long enough for GPS speed
// to mean something and short enough to see the run from inside.
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { LEVEL_SLOPE_LIMIT, SETTLE_TIME_S } from "../evidence/change.ts";
import type { RateWindow } from "../recordings/window.ts";

export interface SteadyMinute {
  /** Middle of the minute, seconds from the recording's start. */
  readonly timeS: number;
  /** Natural logarithm of the mean step rate (spm, both feet). */
  readonly lnStepRate: number;
  /** Natural logarithm of the mean speed (m/s). */
  readonly lnSpeed: number;
  /** Mean slope; 0 where unknown. */
  readonly slope: number;
  readonly heartRateBpm: number | null;
  /** Share of the minute with the beat playing. */
  readonly cueOnShare: number;
}

export interface SteadyMinutesOptions {
  /** Seconds of running that are left out at the start. Default 180. */
  readonly settleS?: number;
  /** Use only windows whose beat was on, or not on. Default: all. */
  readonly cue?: "on" | "off";
}

export interface SteadyMinutes {
  readonly minutes: readonly SteadyMinute[];
  /** Minutes steeper than the level limit that had to be used (corrected) because too few were level. */
  readonly steepUsed: boolean;
  /** No window of the run has a speed. */
  readonly speedMissing: boolean;
}

const MINUTE_S = SECONDS_PER_MINUTE;
/** A minute needs half of itself covered. */
const COVERED_S = 30;
/** Left out on both sides of a stop or a walk. */
const TRANSITION_S = 15;
/** Windows less sure than this are not used. */
const QUALITY_LIMIT = 0.5;
/** ln ratio of the speeds of the two halves of a minute above which it is a transition. */
const CHANGE_WITHIN_LIMIT = 0.2;
const ENOUGH_LEVEL_MINUTES = 3;

type UsableWindow = RateWindow & { readonly stepRateSpm: number; readonly speedMps: number };

/**
 * The steady minutes of a run, in order: running, settled, sure, not beside a stop, not changing speed, level if possible.
 * Windows may overlap and may have gaps. An empty list when nothing is left.
 */
export function steadyMinutes(windows: readonly RateWindow[], options: SteadyMinutesOptions = {}): SteadyMinutes {
  const sorted = windows.toSorted((a, b) => a.startS - b.startS);
  const firstRunning = sorted.find((window) => window.state === "running");
  const speedMissing = sorted.every((window) => window.speedMps === null);
  if (firstRunning === undefined) return { minutes: [], steepUsed: false, speedMissing };
  const startS = firstRunning.startS + (options.settleS ?? SETTLE_TIME_S.value);
  const breaks = sorted.filter((window) => window.state === "walking" || window.state === "standing");
  const usable = sorted.filter(
    (window): window is UsableWindow =>
      window.state === "running" &&
      window.startS >= startS - 1e-9 &&
      window.stepRateSpm !== null &&
      window.stepRateSpm > 0 &&
      window.speedMps !== null &&
      window.speedMps > 0.5 &&
      window.quality >= QUALITY_LIMIT &&
      (options.cue === undefined || (options.cue === "on") === (window.cue === "on")),
  );
  const minutes = new Map<number, UsableWindow[]>();
  let nextBreak = 0;
  for (const window of usable) {
    while (nextBreak < breaks.length && breaks[nextBreak]!.endS < window.startS - TRANSITION_S) nextBreak += 1;
    const near = breaks[nextBreak];
    if (near !== undefined && near.startS < window.endS + TRANSITION_S) continue;
    const index = Math.floor(((window.startS + window.endS) / 2 - startS) / MINUTE_S);
    const list = minutes.get(index);
    if (list === undefined) minutes.set(index, [window]);
    else list.push(window);
  }
  const all = [...minutes.values()].map(summarise).filter((minute) => minute !== null);
  const level = all.filter((minute) => Math.abs(minute.slope) <= LEVEL_SLOPE_LIMIT.value);
  const enough = level.length >= ENOUGH_LEVEL_MINUTES && level.length >= all.length / 2;
  return { minutes: enough ? level : all, steepUsed: !enough && level.length < all.length, speedMissing };
}

function summarise(windows: readonly UsableWindow[]): SteadyMinute | null {
  let coveredS = 0;
  let coveredTo = -Infinity;
  for (const window of windows) {
    coveredS += Math.max(0, window.endS - Math.max(window.startS, coveredTo));
    coveredTo = Math.max(coveredTo, window.endS);
  }
  if (coveredS < COVERED_S) return null;
  const mean = (value: (window: UsableWindow) => number, list: readonly UsableWindow[] = windows): number =>
    list.reduce((sum, window) => sum + value(window), 0) / list.length;
  const half = Math.floor(windows.length / 2);
  if (half > 0) {
    const change = Math.log(
      mean((w) => w.speedMps, windows.slice(-half)) / mean((w) => w.speedMps, windows.slice(0, half)),
    );
    if (Math.abs(change) > CHANGE_WITHIN_LIMIT) return null;
  }
  const withHeart = windows.filter((window) => window.heartRateBpm !== null && window.heartRateBpm > 0);
  return {
    timeS: mean((window) => (window.startS + window.endS) / 2),
    lnStepRate: Math.log(mean((window) => window.stepRateSpm)),
    lnSpeed: Math.log(mean((window) => window.speedMps)),
    slope: mean((window) => window.slope ?? 0),
    heartRateBpm: withHeart.length * 2 >= windows.length ? mean((window) => window.heartRateBpm ?? 0, withHeart) : null,
    cueOnShare: mean((window) => (window.cue === "on" ? 1 : 0)),
  };
}
