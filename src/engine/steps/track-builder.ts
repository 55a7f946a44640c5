// Batch side of the rate core: keeps a block of windows, runs the path forward and backward, and decides each point.
import { addEvidence, spreadScores } from "./rate-path.ts";
import { type CombFit } from "./comb-model.ts";
import { decidePoint, type CombShares, type WindowFacts } from "./decide-point.ts";
import { RATE_GRID, STATE_COUNT } from "./movement-states.ts";
import { type RatePoint } from "./rate-track.ts";

/** Windows held at once, about 4 MB: a day's recording needs no more than an hour's. */
const BLOCK = 1024;

export interface TrackBuilder {
  readonly add: (facts: WindowFacts, evidence: Float64Array, fit: CombFit) => void;
  /** The path does not go on over this moment. */
  readonly breakPath: () => void;
  readonly finish: () => readonly RatePoint[];
}

export function createTrackBuilder(hopS: number): TrackBuilder {
  const points: RatePoint[] = [];
  const facts: WindowFacts[] = [];
  const evidences = new Float64Array(BLOCK * STATE_COUNT);
  const forwards = new Float64Array(BLOCK * STATE_COUNT);
  const rateCount = RATE_GRID.highSpm - RATE_GRID.lowSpm + 1;
  const shareTable = (): Float32Array => new Float32Array(BLOCK * rateCount);
  const [explained, stepShares, strideShares] = [shareTable(), shareTable(), shareTable()];
  const sharesAt = (window: number, rateSpm: number): CombShares => {
    const at = window * rateCount + Math.round(rateSpm) - RATE_GRID.lowSpm;
    return { explained: explained[at]!, stepShare: stepShares[at]!, strideShare: strideShares[at]! };
  };
  const carried = new Float64Array(STATE_COUNT);
  let backward = new Float64Array(STATE_COUNT);
  let earlier = new Float64Array(STATE_COUNT);
  const total = new Float64Array(STATE_COUNT);
  let fresh = true;
  const rowsOf = (all: Float64Array): readonly Float64Array[] =>
    Array.from({ length: BLOCK }, (_, i) => all.subarray(i * STATE_COUNT, (i + 1) * STATE_COUNT));
  const evidenceRows = rowsOf(evidences);
  const forwardRows = rowsOf(forwards);

  const flush = (): void => {
    const count = facts.length;
    if (count === 0) return;
    const decided: RatePoint[] = [];
    backward.fill(0);
    for (let i = count - 1; i >= 0; i -= 1) {
      const forward = forwardRows[i]!;
      const evidence = evidenceRows[i]!;
      for (let s = 0; s < STATE_COUNT; s += 1) total[s] = forward[s]! + backward[s]!;
      decided.push(decidePoint(total, evidence, (rate) => sharesAt(i, rate), facts[i]!));
      addEvidence(backward, evidence);
      spreadScores(backward, earlier, hopS);
      [backward, earlier] = [earlier, backward];
    }
    for (let i = decided.length - 1; i >= 0; i -= 1) points.push(decided[i]!);
    carried.set(forwardRows[count - 1]!);
    facts.length = 0;
  };
  return {
    add(windowFacts, evidence, fit) {
      if (facts.length === BLOCK) flush();
      const i = facts.length;
      const forward = forwardRows[i]!;
      if (fresh) forward.fill(0);
      else spreadScores(i === 0 ? carried : forwardRows[i - 1]!, forward, hopS);
      fresh = false;
      addEvidence(forward, evidence);
      evidenceRows[i]!.set(evidence);
      for (let r = 0; r < rateCount; r += 1)
        explained[i * rateCount + r] = Math.max(fit.alikeShare[r]!, fit.unlikeShare[r]!);
      stepShares.set(fit.stepShare, i * rateCount);
      strideShares.set(fit.strideShare, i * rateCount);
      facts.push(windowFacts);
    },
    breakPath() {
      flush();
      fresh = true;
    },
    finish() {
      flush();
      return points;
    },
  };
}
