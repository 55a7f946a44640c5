// Where gait begins and ends: runs of points in one state, with edges set where the impacts set in or die away.
import { type FeatureStretch } from "./feature-store.ts";
import { goesOn } from "./gait-chain.ts";
import { type RatePoint } from "./rate-track.ts";

type Gait = "running" | "walking" | "unknown";

export interface MovingSpan {
  /** "unknown" where the steps may be either. */
  readonly state: Gait;
  /** Indices into the stretch's features, end exclusive. */
  readonly from: number;
  readonly to: number;
  /** Points with a rate, ascending in time. */
  readonly points: readonly (RatePoint & { readonly stepRateSpm: number })[];
}

/** A hole in the track up to this long between points of one state is bridged: the feet do not stop for a lost sample. */
const BRIDGE_S = 3;
/** How far an edge may move from the outermost point: half a window and a bit. */
const EDGE_REACH_S = 3.5;

/** Spans of one stretch. `points` are the stretch's own, ascending. */
export function findMovingSpans(stretch: FeatureStretch, points: readonly RatePoint[]): readonly MovingSpan[] {
  const groups: { state: Gait; points: (RatePoint & { stepRateSpm: number })[] }[] = [];
  for (const point of points) {
    const { stepRateSpm, state } = point;
    if (stepRateSpm === null || state === "standing") continue;
    const last = groups.at(-1);
    const lastPoint = last?.points.at(-1);
    const moved = { ...point, stepRateSpm };
    if (last === undefined || lastPoint === undefined) groups.push({ state, points: [moved] });
    else if (last.state === state && point.timeS - lastPoint.timeS <= BRIDGE_S) last.points.push(moved);
    else if ((last.state === "unknown" || state === "unknown") && goesOn(lastPoint, point)) {
      last.points.push(moved);
      if (last.state === "unknown") last.state = state;
    } else groups.push({ state, points: [moved] });
  }
  const strength = strideMean(stretch);
  const indexOf = (timeS: number): number =>
    Math.max(0, Math.min(strength.length - 1, Math.round((timeS - stretch.startS) * stretch.featureRateHz)));
  const levels = groups.map((group) => median(group.points.map((point) => strength[indexOf(point.timeS)]!)));
  const reach = Math.round(EDGE_REACH_S * stretch.featureRateHz);
  const spans: MovingSpan[] = [];
  groups.forEach((group, g) => {
    const first = indexOf(group.points[0]!.timeS);
    const last = indexOf(group.points.at(-1)!.timeS);
    const level = levels[g]!;
    const close = 2 * reach;
    const before = groups[g - 1];
    const beforeNear = before !== undefined && first - indexOf(before.points.at(-1)!.timeS) < close;
    const after = groups[g + 1];
    const afterNear = after !== undefined && indexOf(after.points[0]!.timeS) - last < close;
    // Between two kinds of gait the edge lies where the strength passes between theirs; else where it has faded.
    const edgeLevel = (neighbour: number | undefined): number =>
      neighbour === undefined ? 0.35 * level : Math.sqrt(level * neighbour);
    const from = findEdge(strength, first, -1, reach, edgeLevel(beforeNear ? levels[g - 1] : undefined), level);
    const to = findEdge(strength, last, 1, reach, edgeLevel(afterNear ? levels[g + 1] : undefined), level);
    const start = Math.max(from, spans.at(-1)?.to ?? 0);
    if (to + 1 > start) spans.push({ state: group.state, from: start, to: to + 1, points: group.points });
  });
  return spans;
}

/** Walks outward from `at` while the strength is on the span's own side of the edge level. */
function findEdge(
  strength: Float32Array,
  at: number,
  direction: 1 | -1,
  reach: number,
  edge: number,
  own: number,
): number {
  const inside = (index: number): boolean => (own >= edge ? strength[index]! >= edge : strength[index]! <= edge);
  let index = at;
  // If the outermost point is already beyond the edge, walk inward first.
  for (let step = 0; step < reach && !inside(index); step += 1) {
    const next = index - direction;
    if (next < 0 || next >= strength.length) break;
    index = next;
  }
  for (let step = 0; step < reach; step += 1) {
    const next = index + direction;
    if (next < 0 || next >= strength.length || !inside(next)) break;
    index = next;
  }
  return index;
}

/** Impact strength averaged over about a stride (0.8 s), centred. */
function strideMean(stretch: FeatureStretch): Float32Array {
  const half = Math.round(0.4 * stretch.featureRateHz);
  const { impact } = stretch;
  const out = new Float32Array(impact.length);
  let sum = 0;
  let from = 0;
  let to = 0;
  for (let i = 0; i < impact.length; i += 1) {
    while (to < impact.length && to <= i + half) {
      sum += impact[to]!;
      to += 1;
    }
    while (from < i - half) {
      sum -= impact[from]!;
      from += 1;
    }
    out[i] = sum / (to - from);
  }
  return out;
}

function median(values: number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
