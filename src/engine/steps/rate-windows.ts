// The track's points gathered into the ten-second windows that everything after works with.
import { type CueBlock } from "../recordings/recording.ts";
import { type MovementState, type RateWindow } from "../recordings/window.ts";
import { hzToSpm, spmToHz } from "../quantities/units.ts";
import { goesOn } from "./gait-chain.ts";
import { NO_RATE_SENTENCE, type RatePoint, type RateTrack } from "./rate-track.ts";

const LENGTH_S = 10;
const STEP_S = 5;
/** A window has the state, and the rate, of its points if at least this share agrees. */
const LEAST_SHARE = 0.6;

/**
 * Windows of 10 s every 5 s from the start; the last ends with the recording. A shorter recording gives one. The rate is
 * the mean of the points. In a window shorter than 10 s they are few, and their tapers hardly see its ends: there the
 * contacts give it, first to last, if they are at hand and the points agree.
 */
export function gatherWindows(
  track: RateTrack,
  durationS: number,
  cueBlocks: readonly CueBlock[],
  stepTimesS: Float64Array = new Float64Array(0),
): readonly RateWindow[] {
  const windows: RateWindow[] = [];
  let first = 0;
  let firstStep = 0;
  for (let startS = 0; startS === 0 || startS + STEP_S < durationS; startS += STEP_S) {
    const endS = Math.min(startS + LENGTH_S, durationS);
    while (first < track.points.length && track.points[first]!.timeS < startS) first += 1;
    const inside: RatePoint[] = [];
    for (let i = first; i < track.points.length && track.points[i]!.timeS < endS; i += 1) inside.push(track.points[i]!);
    while (firstStep < stepTimesS.length && stepTimesS[firstStep]! < startS) firstStep += 1;
    let endStep = firstStep;
    while (endStep < stepTimesS.length && stepTimesS[endStep]! < endS) endStep += 1;
    const window = summarise(startS, endS, inside, cueAt(cueBlocks, startS, endS));
    windows.push(refineByContacts(window, stepTimesS.subarray(firstStep, endStep)));
    if (endS >= durationS) break;
  }
  return windows;
}

/** Contacts must follow each other this evenly, and span this much of the window, to stand for its rate. */
const EVEN = { low: 0.75, high: 1.3 };
const LEAST_SPAN_SHARE = 0.6;
/** Further from the points' mean than this, one of the two is wrong, and the points decide. */
const MOST_DIFFERENCE_SHARE = 0.03;

function refineByContacts(window: RateWindow, stepTimesS: Float64Array): RateWindow {
  const rate = window.stepRateSpm;
  if (rate === null || window.endS - window.startS >= LENGTH_S) return window;
  let start = 0;
  let best = { from: 0, to: 0 };
  for (let i = 1; i < stepTimesS.length; i += 1) {
    const intervals = (stepTimesS[i]! - stepTimesS[i - 1]!) * spmToHz(rate);
    if (intervals < EVEN.low || intervals > EVEN.high) start = i;
    if (i - start > best.to - best.from) best = { from: start, to: i };
  }
  const spanS = best.to > best.from ? stepTimesS[best.to]! - stepTimesS[best.from]! : 0;
  if (spanS < LEAST_SPAN_SHARE * (window.endS - window.startS)) return window;
  const stepRateSpm = hzToSpm((best.to - best.from) / spanS);
  return Math.abs(stepRateSpm / rate - 1) > MOST_DIFFERENCE_SHARE ? window : { ...window, stepRateSpm };
}

function summarise(startS: number, endS: number, points: readonly RatePoint[], cue: RateWindow["cue"]): RateWindow {
  const base = { startS, endS, speedMps: null, slope: null, heartRateBpm: null, cue };
  const none = (state: MovementState, reason: string): RateWindow => ({
    ...base,
    stepRateSpm: null,
    quality: 0,
    state,
    reason,
  });
  if (points.length === 0) return none("unknown", NO_RATE_SENTENCE["too-short"]);
  const kind = mostOf(points) ?? (isOneRate(points) ? "either" : undefined);
  if (kind === undefined) return none("unknown", "the movement changes within the window");
  const rates: number[] = [];
  let quality = 0;
  for (const point of points)
    if (point.stepRateSpm !== null && (kind === "either" || kindOf(point) === kind)) {
      rates.push(point.stepRateSpm);
      quality += point.quality;
    }
  if (rates.length === 0 && kind !== "either")
    return none(kind, NO_RATE_SENTENCE[points.find((point) => kindOf(point) === kind)?.reason ?? "no-rhythm"]);
  const stepRateSpm = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  // Points without an answer count as doubt.
  const answer = { ...base, stepRateSpm, quality: quality / points.length };
  if (kind !== "either") return { ...answer, state: kind };
  const reason = points.find((point) => kindOf(point) === kind)?.reason ?? "running-or-walking";
  return { ...answer, state: "unknown", reason: NO_RATE_SENTENCE[reason] };
}

/** A point's state; "either" with a rate whose gait is open. */
type PointKind = MovementState | "either";

function kindOf({ state, stepRateSpm }: RatePoint): PointKind {
  return state === "unknown" && stepRateSpm !== null ? "either" : state;
}

/** The kind of at least `LEAST_SHARE` of the points. */
function mostOf(points: readonly RatePoint[]): PointKind | undefined {
  const counts = new Map<PointKind, number>();
  for (const point of points) counts.set(kindOf(point), (counts.get(kindOf(point)) ?? 0) + 1);
  return [...counts].find(([, count]) => count >= LEAST_SHARE * points.length)?.[0];
}

/** The gait is told in some points only, but the steps go on at one rate. */
function isOneRate(points: readonly RatePoint[]): boolean {
  const moving = points.filter((point) => point.stepRateSpm !== null);
  if (moving.length < LEAST_SHARE * points.length || !moving.some((point) => point.state === "unknown")) return false;
  return moving.every((point, i) => i === 0 || goesOn(moving[i - 1]!, point));
}

/** The cue of a window that lies wholly inside one block, else null. */
function cueAt(blocks: readonly CueBlock[], startS: number, endS: number): RateWindow["cue"] {
  return blocks.find((block) => block.startS <= startS && endS <= block.endS)?.cue ?? null;
}
