// Points as a file holds them, in whatever order and state, to one recording in order of time.
import { fail, succeed, type Problem, type Result, type Warning } from "../quantities/problem.ts";
import type { Feet } from "../quantities/feet.ts";
import { settleCadence } from "./feet-of-cadence.ts";
import type { CueBlock, Surface, TrackRecording } from "./recording.ts";
import { roughDistanceM, type TrackPoint } from "./track-point.ts";
import { counted } from "./wording.ts";

export interface AssembleOptions {
  readonly kind: TrackRecording["kind"];
  readonly fileName: string;
  /** False when the times are seconds from a start that is not told. */
  readonly hasClock: boolean;
  readonly surface?: Surface;
  /** The file's own word for what its cadence counts. */
  readonly cadenceLabel?: Feet;
}

/** Points this far apart belong to different recordings. */
const SPLIT_MS = 12 * 3600 * 1000;
/** Two points further apart than this tell nothing of the speed between them. */
const MAX_STEP_MS = 30_000;
/** A track that stays within this is not a run over ground. */
const SMALLEST_OUTDOOR_EXTENT_M = 50;

/**
 * One TrackRecording from a file's points. Points without time are left out, unless they are
 * the most (`track-no-time`); points in disorder are sorted, unless
 * sorting weaves two stretches into one another (`time-backwards`); equal stamps with equal positions are merged, equal
 * stamps with different positions are both kept, so times never fall but may repeat. Points more than 12 hours apart
 * are different recordings: the one with most points is read. All of it is told in warnings.
 */
export function assembleTrack(points: readonly TrackPoint[], options: AssembleOptions): Result<TrackRecording> {
  const warnings: Warning[] = [];
  const timed = points.filter((point) => Number.isFinite(point.timeMs));
  const untimedCount = points.length - timed.length;
  if (timed.length === 0 || untimedCount > points.length / 2)
    return fail(noTimeProblem(options.fileName, untimedCount, points.length));
  if (untimedCount > 0)
    warnings.push({
      code: "time-missing",
      message: `${untimedCount} of ${counted(points.length, "point")} have no time and were left out.`,
    });

  const ordered = putInOrder(timed, options.fileName, warnings);
  if (!ordered.ok) return ordered;
  const merged = mergeRepeats(longestCluster(ordered.value, warnings), warnings);
  const startMs = merged[0]!.timeMs;
  const durationMs = merged.at(-1)!.timeMs - startMs;
  if (merged.length < 2 || durationMs <= 0)
    return fail({
      code: merged.length < 2 ? "track-single-point" : "track-no-duration",
      where: { file: options.fileName, ...(options.kind === "gpx" ? { line: merged[0]!.place } : { row: 1 }) },
      got: merged.length < 2 ? "a single point in time" : `${merged.length} points with the same time`,
      expected: "at least two points at different times",
      remedy: "Export the whole run, with a time for every point.",
    });
  return succeed(toRecording(merged, options, warnings), warnings);
}

function noTimeProblem(fileName: string, untimedCount: number, pointCount: number): Problem {
  return {
    code: "track-no-time",
    where: { file: fileName },
    got:
      untimedCount === pointCount
        ? "no times at all"
        : `${untimedCount} of ${counted(pointCount, "point")} without a time`,
    expected: "a time for every point: without it there is neither speed nor step rate",
    remedy: "Export the recorded run itself, not a planned route.",
  };
}

function putInOrder(points: readonly TrackPoint[], fileName: string, warnings: Warning[]): Result<TrackPoint[]> {
  const falls = points.filter((point, index) => index > 0 && point.timeMs < points[index - 1]!.timeMs);
  if (falls.length === 0) return succeed([...points]);
  const sorted = [...points].sort((a, b) => a.timeMs - b.timeMs);
  const before = pathLengthM(points);
  const after = pathLengthM(sorted);
  if (after > 2 * before + 100)
    return fail({
      code: "time-backwards",
      where: { file: fileName, line: falls[0]!.place },
      got: "a clock that runs back and repeats a stretch of time at other places",
      expected: "times that go forward",
      remedy: "Split the file where the clock was set, and read each part.",
    });
  warnings.push({
    code: "time-backwards",
    message: `Time goes backwards ${counted(falls.length, "time")}, first at line ${falls[0]!.place}; the points were put in order.`,
  });
  return succeed(sorted);
}

function pathLengthM(points: readonly TrackPoint[]): number {
  let length = 0;
  for (let index = 1; index < points.length; index += 1) {
    const step = roughDistanceM(points[index - 1]!, points[index]!);
    if (Number.isFinite(step)) length += step;
  }
  return length;
}

function longestCluster(points: readonly TrackPoint[], warnings: Warning[]): readonly TrackPoint[] {
  const clusters: TrackPoint[][] = [[]];
  for (const [index, point] of points.entries()) {
    if (index > 0 && point.timeMs - points[index - 1]!.timeMs > SPLIT_MS) clusters.push([]);
    clusters.at(-1)!.push(point);
  }
  if (clusters.length === 1) return points;
  const longest = clusters.reduce((best, cluster) => (cluster.length > best.length ? cluster : best));
  warnings.push({
    code: "several-recordings",
    message: `The file holds ${clusters.length} stretches more than 12 hours apart; the one with most points (${longest.length} of ${points.length}) was read.`,
  });
  return longest;
}

function mergeRepeats(points: readonly TrackPoint[], warnings: Warning[]): TrackPoint[] {
  const merged: TrackPoint[] = [];
  let mergedCount = 0;
  let keptCount = 0;
  for (const point of points) {
    const last = merged.at(-1);
    if (last === undefined || last.timeMs !== point.timeMs) {
      merged.push(point);
    } else if (samePlace(last, point)) {
      merged[merged.length - 1] = filledFrom(last, point);
      mergedCount += 1;
    } else {
      merged.push(point);
      keptCount += 1;
    }
  }
  if (mergedCount > 0)
    warnings.push({
      code: "time-repeated",
      message: `${counted(mergedCount, "repeated point")} (same time, same place) merged.`,
    });
  if (keptCount > 0)
    warnings.push({
      code: "time-shared",
      message: `${counted(keptCount, "point")} kept that share a time with a point at another place.`,
    });
  return merged;
}

function samePlace(a: TrackPoint, b: TrackPoint): boolean {
  const same = (x: number, y: number): boolean => x === y || Number.isNaN(x) || Number.isNaN(y);
  return same(a.latitudeDeg, b.latitudeDeg) && same(a.longitudeDeg, b.longitudeDeg);
}

/** The first point, with what it lacks taken from the second. */
function filledFrom(first: TrackPoint, second: TrackPoint): TrackPoint {
  const pick = (a: number, b: number): number => (Number.isNaN(a) ? b : a);
  return {
    ...second,
    ...first,
    latitudeDeg: pick(first.latitudeDeg, second.latitudeDeg),
    longitudeDeg: pick(first.longitudeDeg, second.longitudeDeg),
    elevationM: pick(first.elevationM, second.elevationM),
    speedMps: pick(first.speedMps, second.speedMps),
    distanceM: pick(first.distanceM, second.distanceM),
    cadence: pick(first.cadence, second.cadence),
    heartRateBpm: pick(first.heartRateBpm, second.heartRateBpm),
  };
}

function toRecording(points: readonly TrackPoint[], options: AssembleOptions, warnings: Warning[]): TrackRecording {
  const column = (of: (point: TrackPoint) => number): Float64Array => Float64Array.from(points, of);
  const startMs = points[0]!.timeMs;
  const settled = settleCadence({
    cadence: points.map((point) => point.cadence),
    usualSpeedMps: usualSpeedMps(points),
    ...(options.cadenceLabel === undefined ? {} : { label: options.cadenceLabel }),
  });
  warnings.push(...settled.warnings);
  const segmentStartIndex = points.flatMap((point, index) =>
    index === 0 || point.segment !== points[index - 1]!.segment ? [index] : [],
  );
  return {
    kind: options.kind,
    ...(options.hasClock ? { startedAtMs: startMs } : {}),
    surface: options.surface ?? (extentM(points) >= SMALLEST_OUTDOOR_EXTENT_M ? "outdoor" : "unknown"),
    timeS: column((point) => (point.timeMs - startMs) / 1000),
    latitudeDeg: column((point) => point.latitudeDeg),
    longitudeDeg: column((point) => point.longitudeDeg),
    elevationM: column((point) => point.elevationM),
    recordedSpeedMps: column((point) => point.speedMps),
    recordedDistanceM: column((point) => point.distanceM),
    stepRateSpm: settled.stepRateSpm,
    heartRateBpm: column((point) => point.heartRateBpm),
    feetCounted: settled.feetCounted,
    segmentStartIndex,
    cueBlocks: cueBlocks(points),
  };
}

/** Speed while the cadence was above zero: recorded where it was, else from the places. NaN when neither is known. */
function usualSpeedMps(points: readonly TrackPoint[]): number {
  const recorded = points.filter((p) => p.cadence > 0 && p.speedMps >= 0).map((p) => p.speedMps);
  if (recorded.length > 0) return recorded.sort((a, b) => a - b)[Math.floor(recorded.length / 2)]!;
  let distanceM = 0;
  let timeMs = 0;
  for (let index = 1; index < points.length; index += 1) {
    const [before, here] = [points[index - 1]!, points[index]!];
    const step = here.timeMs - before.timeMs;
    const length = Number.isFinite(here.distanceM) ? here.distanceM - before.distanceM : roughDistanceM(before, here);
    if (!(here.cadence > 0 && before.cadence > 0 && step > 0 && step <= MAX_STEP_MS && length >= 0)) continue;
    distanceM += length;
    timeMs += step;
  }
  return timeMs > 0 && distanceM > 0 ? (1000 * distanceM) / timeMs : NaN;
}

function extentM(points: readonly TrackPoint[]): number {
  const located = points.filter((point) => Number.isFinite(point.latitudeDeg));
  return located.reduce((most, point) => Math.max(most, roughDistanceM(located[0]!, point)), 0);
}

function cueBlocks(points: readonly TrackPoint[]): CueBlock[] {
  const blocks: CueBlock[] = [];
  const startMs = points[0]!.timeMs;
  for (const [index, point] of points.entries()) {
    if (point.cue === undefined) continue;
    const nowS = (point.timeMs - startMs) / 1000;
    const nextS = ((points[index + 1] ?? point).timeMs - startMs) / 1000;
    const last = blocks.at(-1);
    if (last?.cue === point.cue && last.endS === nowS && last.targetSpm === point.targetSpm)
      blocks[blocks.length - 1] = { ...last, endS: nextS };
    else
      blocks.push({
        startS: nowS,
        endS: nextS,
        cue: point.cue,
        ...(point.targetSpm === undefined ? {} : { targetSpm: point.targetSpm }),
      });
  }
  return blocks.filter((block) => block.endS > block.startS);
}
