// Which belt speeds a card shows: the runner's own, rounded as belts show it, and two steps either way.
import { mpsToKmh } from "../../engine/quantities/units.ts";

const STEP_KMH = 0.5;
const EITHER_WAY = 2;

export function beltSpeedsKmh(speedMps: number): readonly number[] {
  const nearest = Math.round(mpsToKmh(speedMps) / STEP_KMH);
  return Array.from({ length: 2 * EITHER_WAY + 1 }, (_, index) => (nearest - EITHER_WAY + index) * STEP_KMH).filter(
    (speed) => speed > 0,
  );
}
