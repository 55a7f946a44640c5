// How far a receiver's positions scatter, learnt from the track itself.
import { positionNoiseM } from "../evidence/speed.ts";
import type { PlanePath } from "./local-plane.ts";

/** Three points within this tell noise from running; over more, a bend looks like noise. */
const MAX_TRIPLE_S = 4;
const MIN_TRIPLES = 30;
/** The normal distribution's standard deviation over its median absolute deviation. */
const SIGMA_PER_MAD = 1.4826;

/**
 * Standard deviation of one axis (m), from how far each point lies off the line between its neighbours: median absolute
 * deviation, so that jumps do not count. Errors that wander slowly do not show here, so the answer is kept within
 * the evidence's range (0.5–8 m); with fewer than 30 close triples it is the evidence's 3 m.
 */
export function estimatePositionNoise(timeS: Float64Array, path: PlanePath): number {
  const scaled: number[] = [];
  for (let i = 1; i + 1 < timeS.length; i += 1) {
    const before = timeS[i]! - timeS[i - 1]!;
    const after = timeS[i + 1]! - timeS[i]!;
    if (!(before > 0 && after > 0 && before + after <= MAX_TRIPLE_S)) continue;
    const share = before / (before + after);
    // Variance of p₁ − (1 − w) p₀ − w p₂ is σ² (1 + (1 − w)² + w²).
    const norm = Math.sqrt(1 + (1 - share) ** 2 + share ** 2);
    for (const axis of [path.eastM, path.northM]) {
      const off = axis[i]! - (1 - share) * axis[i - 1]! - share * axis[i + 1]!;
      if (Number.isFinite(off)) scaled.push(Math.abs(off) / norm);
    }
  }
  if (scaled.length < 2 * MIN_TRIPLES) return positionNoiseM.value;
  scaled.sort((a, b) => a - b);
  const sigma = SIGMA_PER_MAD * scaled[Math.floor(scaled.length / 2)]!;
  const [least, most] = positionNoiseM.range ?? [positionNoiseM.value, positionNoiseM.value];
  return Math.min(most, Math.max(least, sigma));
}
