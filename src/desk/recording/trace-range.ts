// Which part of a run the traces show. Ranges are [from, to] in seconds and never leave the run.
export type TraceRange = readonly [from: number, to: number];

/** Nobody looks closer than this. */
const LEAST_S = 5;

/** `factor` below 1 looks closer; the moment `aboutS` stays where it is on the screen. */
export function zoomedRange(range: TraceRange, whole: TraceRange, factor: number, aboutS: number): TraceRange {
  const [from, to] = range;
  const span = Math.min(whole[1] - whole[0], Math.max(Math.min(LEAST_S, to - from), (to - from) * factor));
  const share = to > from ? (aboutS - from) / (to - from) : 0.5;
  return held(aboutS - share * span, span, whole);
}

/** Moved along by so many seconds, as far as the run goes. */
export function pannedRange(range: TraceRange, whole: TraceRange, byS: number): TraceRange {
  return held(range[0] + byS, range[1] - range[0], whole);
}

function held(from: number, span: number, whole: TraceRange): TraceRange {
  const start = Math.max(whole[0], Math.min(whole[1] - span, from));
  return [start, start + span];
}
