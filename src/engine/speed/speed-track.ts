// The speed of a recording, from the best that it holds: a measured distance, a measured speed, or positions.
import { standingSpeedMps } from "../evidence/speed.ts";
import type { Warning } from "../quantities/problem.ts";
import type { TrackRecording } from "../recordings/recording.ts";
import { speedFromPositions, type Positions } from "./position-speed.ts";
import { slopeOverDistance } from "./slope.ts";

type SpeedSource = "distance" | "speed" | "positions" | "none";

interface Stretch {
  readonly startS: number;
  readonly endS: number;
}

export interface SpeedTrack {
  readonly source: SpeedSource;
  readonly timeS: Float64Array;
  /** At each sample; NaN where unknown. */
  readonly speedMps: Float64Array;
  /** Distance from the first sample, standing left out; never falls. */
  readonly distanceM: Float64Array;
  /** Rise over run at each sample; NaN where unknown. */
  readonly slope: Float64Array;
  /** Way from the sample before, standing and gaps included; meaningful where known. */
  readonly stepM: Float64Array;
  /** 1 where the step from the sample before is known. */
  readonly known: Uint8Array;
  /** 1 where the step from the sample before is known and moving. */
  readonly moving: Uint8Array;
  readonly totalDistanceM: number | null;
  readonly movingS: number | null;
  /** Standing of at least 5 s. */
  readonly pauses: readonly Stretch[];
  /** Stretches without knowledge of the place or speed. */
  readonly gaps: readonly Stretch[];
  readonly warnings: readonly Warning[];
}

/** A column counts as recorded when it is there for this share of the samples. */
const ENOUGH_SHARE = 0.8;
/** Standing is judged over this much time around a step. */
const STANDING_WINDOW_S = 10;
const SHORTEST_PAUSE_S = 5;
/** A measured column may hold for this long between its entries (laps of a track take two minutes and more). */
const LONGEST_HOLD_S = 900;

/**
 * Speed, distance, slope and pauses of a track. A recorded distance that never falls is taken as known (belt, laps, foot
 * sensor: at least two entries, over 80 % of the time); else a recorded speed (80 % of the samples); else positions
 * are smoothed. Steps in which the runner gets ahead by less than 0.7 m/s over ten seconds, or whose cadence is 0, are
 * standing: they count neither for distance nor for moving time. A gap within a segment counts as the straight way
 * across it by the same rule; its speed stays unknown. The way between segments is never counted. `noiseM`: standard
 * deviation of one axis of each position, where the receiver told it.
 */
export function speedOfTrack(recording: TrackRecording, options: { readonly noiseM?: Float64Array } = {}): SpeedTrack {
  const { timeS } = recording;
  const positions: Positions = { ...recording, ...options };
  const steps = chooseSteps(recording, positions);
  const moving = movingSteps(timeS, steps.stepM, steps.known, recording.stepRateSpm);
  const distanceM = new Float64Array(timeS.length);
  let movingS = 0;
  for (let i = 1; i < timeS.length; i += 1) {
    const spanS = timeS[i]! - timeS[i - 1]!;
    const acrossGap =
      steps.gapM !== undefined && steps.gapM[i]! >= standingSpeedMps.value * spanS && steps.gapM[i]! > 0;
    const wayM = moving[i] === 1 ? steps.stepM[i]! : acrossGap ? steps.gapM[i]! : 0;
    distanceM[i] = distanceM[i - 1]! + wayM;
    if (moving[i] === 1 || acrossGap) movingS += spanS;
  }
  const known = steps.source !== "none";
  return {
    source: steps.source,
    timeS,
    speedMps: steps.speedMps,
    distanceM,
    slope: known ? slopeOverDistance(distanceM, recording.elevationM) : new Float64Array(timeS.length).fill(NaN),
    stepM: steps.stepM,
    known: steps.known,
    moving,
    totalDistanceM: known ? (distanceM.at(-1) ?? 0) : null,
    movingS: known ? movingS : null,
    pauses: stretchesOf(timeS, (i) => steps.known[i] === 1 && moving[i] === 0, SHORTEST_PAUSE_S),
    gaps: known ? stretchesOf(timeS, (i) => steps.known[i] === 0, 0) : [],
    warnings: steps.warnings,
  };
}

interface Steps {
  readonly source: SpeedSource;
  readonly speedMps: Float64Array;
  readonly stepM: Float64Array;
  /** 1 where the step from the sample before is known. */
  readonly known: Uint8Array;
  /** Straight way across a gap, at the sample after it. */
  readonly gapM?: Float64Array;
  readonly warnings: readonly Warning[];
}

function chooseSteps(recording: TrackRecording, positions: Positions): Steps {
  const { timeS } = recording;
  const measuredDistance = distanceSteps(recording);
  if (measuredDistance !== undefined) return measuredDistance;
  const told = recording.recordedSpeedMps;
  const toldCount = told.reduce((count, speed) => count + (speed >= 0 ? 1 : 0), 0);
  const fromPlaces = positionSteps(positions);
  if (toldCount < ENOUGH_SHARE * timeS.length) return fromPlaces;
  const fromSpeed = speedSteps(timeS, told, recording.segmentStartIndex);
  const warnings = compare(fromSpeed, fromPlaces);
  return { ...fromSpeed, warnings };
}

function positionSteps(positions: Positions): Steps {
  const result = speedFromPositions(positions);
  const n = positions.timeS.length;
  const known = new Uint8Array(n);
  let any = false;
  let last = -1;
  for (let i = 0; i < n; i += 1) {
    if (result.stretch[i]! < 0) continue;
    if (last >= 0 && result.stretch[last] === result.stretch[i]) {
      // Samples without a position between two located ones share the way between them.
      for (let k = last + 1; k <= i; k += 1) known[k] = 1;
      any = true;
    }
    last = i;
  }
  const warnings: Warning[] = [];
  if (result.outlierCount > 0)
    warnings.push({
      code: "position-outliers",
      message: `Positions left out because nobody could have got there: ${result.outlierCount}.`,
    });
  if (result.jumpCount > 0)
    warnings.push({
      code: "position-jumps",
      message: `Jumps of the position that nobody could have run, counted for nothing: ${result.jumpCount}.`,
    });
  const gapCount = result.gapM.filter((way) => way > 0).length;
  if (gapCount > 0)
    warnings.push({
      code: "position-gaps",
      message: `Gaps without positions: ${gapCount}. The straight way across counts, the speed in them is unknown.`,
    });
  const { speedMps, stepM, gapM } = result;
  return { source: any ? "positions" : "none", speedMps, stepM, known, gapM, warnings };
}

/** The trapezium of the speeds at both ends of each step. */
function speedSteps(timeS: Float64Array, told: Float64Array, segmentStartIndex: readonly number[]): Steps {
  const starts = new Set(segmentStartIndex);
  const stepM = new Float64Array(timeS.length);
  const known = new Uint8Array(timeS.length);
  for (let i = 1; i < timeS.length; i += 1) {
    const step = timeS[i]! - timeS[i - 1]!;
    if (starts.has(i) || !(told[i]! >= 0 && told[i - 1]! >= 0) || step > LONGEST_HOLD_S) continue;
    stepM[i] = ((told[i]! + told[i - 1]!) / 2) * step;
    known[i] = 1;
  }
  const speedMps = told.map((speed) => (speed >= 0 ? speed : NaN));
  return { source: "speed", speedMps, stepM, known, warnings: [] };
}

/** Between two entries of a recorded distance the speed is taken as even. */
function distanceSteps(recording: TrackRecording): Steps | undefined {
  const { timeS, recordedDistanceM: distance } = recording;
  const entries = [...distance.keys()].filter((i) => Number.isFinite(distance[i]!));
  const [first, last] = [entries[0], entries.at(-1)];
  const totalS = timeS.at(-1)! - timeS[0]!;
  if (first === undefined || last === undefined || entries.length < 2) return undefined;
  if (timeS[last]! - timeS[first]! < ENOUGH_SHARE * totalS) return undefined;
  const falls = entries.some((index, k) => k > 0 && distance[index]! < distance[entries[k - 1]!]!);
  if (falls || distance[last] === distance[first]) return undefined;
  const stepM = new Float64Array(timeS.length);
  const speedMps = new Float64Array(timeS.length).fill(NaN);
  const known = new Uint8Array(timeS.length);
  for (const [k, index] of entries.entries()) {
    const before = entries[k - 1];
    if (before === undefined) continue;
    const spanS = timeS[index]! - timeS[before]!;
    if (!(spanS > 0) || spanS > LONGEST_HOLD_S) continue;
    const speed = (distance[index]! - distance[before]!) / spanS;
    for (let i = before + 1; i <= index; i += 1) {
      stepM[i] = speed * (timeS[i]! - timeS[i - 1]!);
      speedMps[i] = speed;
      known[i] = 1;
    }
    if (Number.isNaN(speedMps[before]!)) speedMps[before] = speed;
  }
  return { source: "distance", speedMps, stepM, known, warnings: [] };
}

/** A recorded speed that makes another distance than the places is worth knowing of. */
function compare(fromSpeed: Steps, fromPlaces: Steps): Warning[] {
  let [bySpeed, byPlaces] = [0, 0];
  for (let i = 0; i < fromSpeed.stepM.length; i += 1) {
    if (fromSpeed.known[i] !== 1 || fromPlaces.known[i] !== 1) continue;
    bySpeed += fromSpeed.stepM[i]!;
    byPlaces += fromPlaces.stepM[i]!;
  }
  const off = bySpeed / byPlaces - 1;
  if (!(byPlaces > 200 && Math.abs(off) > 0.05)) return [];
  return [
    {
      code: "speed-disagrees",
      message: `The recorded speed makes ${(Math.abs(off) * 100).toFixed(0)} % ${off > 0 ? "more" : "less"} way than the positions do; the recorded speed was used.`,
    },
  ];
}

function movingSteps(
  timeS: Float64Array,
  stepM: Float64Array,
  known: Uint8Array,
  stepRateSpm: Float64Array,
): Uint8Array {
  const n = timeS.length;
  const way = new Float64Array(n);
  for (let i = 1; i < n; i += 1) way[i] = way[i - 1]! + stepM[i]!;
  const moving = new Uint8Array(n);
  let first = 0;
  let last = 0;
  for (let i = 1; i < n; i += 1) {
    const middle = (timeS[i]! + timeS[i - 1]!) / 2;
    while (first < i - 1 && timeS[first]! < middle - STANDING_WINDOW_S / 2) first += 1;
    last = Math.max(last, i);
    while (last < n - 1 && timeS[last + 1]! <= middle + STANDING_WINDOW_S / 2) last += 1;
    const spanS = timeS[last]! - timeS[first]!;
    const aheadMps = spanS > 0 ? (way[last]! - way[first]!) / spanS : 0;
    const standing = stepRateSpm[i] === 0 && stepRateSpm[i - 1] === 0;
    moving[i] = known[i] === 1 && aheadMps >= standingSpeedMps.value && !standing ? 1 : 0;
  }
  return moving;
}

function stretchesOf(timeS: Float64Array, holds: (index: number) => boolean, leastS: number): Stretch[] {
  const stretches: Stretch[] = [];
  for (let i = 1; i < timeS.length; i += 1) {
    if (!holds(i)) continue;
    const last = stretches.at(-1);
    if (last?.endS === timeS[i - 1]!) stretches[stretches.length - 1] = { ...last, endS: timeS[i]! };
    else stretches.push({ startS: timeS[i - 1]!, endS: timeS[i]! });
  }
  return stretches.filter((stretch) => stretch.endS - stretch.startS > leastS);
}
