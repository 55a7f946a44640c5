// The time of each contact: the chain of onsets that is loudest and keeps the rhythm, by dynamic programming.

/** Step to step, a contact comes at most this much early or late: 0.6 to 1.5 of the rhythm's interval. */
const SHORTEST_SHARE = 0.6;
const LONGEST_SHARE = 1.5;
/** Price of leaving the rhythm, in units of a typical onset, times the squared logarithm of the interval ratio. */
const RHYTHM_PRICE = 40;

/**
 * Frames of the contacts, ascending, with a fraction, between `from` and `to` (exclusive). `strength`: salience, about 1 at a typical contact; `flux`:
 * what it was made from, where the top of each contact is found; `intervalFrames[frame]`: expected interval there. One contact is placed an interval even where a step was not heard;
 * its time is then the rhythm's. Method after Ellis 2007 (beat tracking by dynamic programming). Cost: about one
 * interval's work per frame; memory 12 bytes a frame of the stretch.
 */
export function chainContacts(
  strength: Float64Array,
  flux: Float64Array,
  intervalFrames: Float64Array,
  from: number,
  to: number,
): readonly number[] {
  const count = to - from;
  const score = new Float64Array(count);
  const back = new Int32Array(count).fill(-1);
  for (let at = 0; at < count; at += 1) {
    const interval = intervalFrames[from + at]!;
    const nearest = Math.max(1, Math.round(SHORTEST_SHARE * interval));
    const furthest = Math.min(at, Math.round(LONGEST_SHARE * interval));
    let best = at <= interval ? 0 : Number.NEGATIVE_INFINITY;
    for (let gap = nearest; gap <= furthest; gap += 1) {
      const off = Math.log(gap / interval);
      const candidate = score[at - gap]! - RHYTHM_PRICE * off * off;
      if (candidate > best) {
        best = candidate;
        back[at] = at - gap;
      }
    }
    score[at] = strength[from + at]! + (best === Number.NEGATIVE_INFINITY ? 0 : best);
  }
  const lastInterval = count > 0 ? Math.round(intervalFrames[to - 1]!) : 0;
  let end = count - 1;
  for (let at = Math.max(0, count - lastInterval); at < count; at += 1) if (score[at]! > score[end]!) end = at;
  const frames: number[] = [];
  for (let at = end; at >= 0; at = back[at]!) frames.push(topOf(flux, from + at));
  return frames.reverse();
}

/** The top of the parabola through the nearest local maximum, at most three frames off. */
function topOf(flux: Float64Array, frame: number): number {
  let top = frame;
  for (let step = 0; step < 3; step += 1) {
    const before = flux[top - 1] ?? 0;
    const after = flux[top + 1] ?? 0;
    if (before <= flux[top]! && after <= flux[top]!) break;
    top += after > before ? 1 : -1;
  }
  const before = flux[top - 1] ?? 0;
  const here = flux[top] ?? 0;
  const after = flux[top + 1] ?? 0;
  const bend = 2 * here - before - after;
  if (here < before || here < after || bend <= 0) return frame;
  return top + (after - before) / (2 * bend);
}
