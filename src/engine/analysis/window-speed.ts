// A speed track seen through a window of time.
import type { SpeedTrack } from "../speed/speed-track.ts";

export interface WindowSpeed {
  /** Mean over the known part of the window; null when less than half is known. */
  readonly speedMps: number | null;
  readonly slope: number | null;
  /** Share of the known time that was moving; null when less than half is known. */
  readonly movingShare: number | null;
}

/** Share of a window that must be known. */
const LEAST_KNOWN_SHARE = 0.5;

/** Reads windows off a speed track. Cheapest when the windows come in order of time. */
export function createWindowSpeed(track: SpeedTrack): (startS: number, endS: number) => WindowSpeed {
  const { timeS } = track;
  let first = 1;
  return (startS, endS) => {
    if (first < timeS.length && timeS[first - 1]! > startS) first = 1;
    while (first < timeS.length && timeS[first]! <= startS) first += 1;
    let [knownS, movingS, wayM, slopeSum, slopeCount] = [0, 0, 0, 0, 0];
    for (let i = first; i < timeS.length && timeS[i - 1]! < endS; i += 1) {
      const spanS = timeS[i]! - timeS[i - 1]!;
      const overlapS = Math.min(timeS[i]!, endS) - Math.max(timeS[i - 1]!, startS);
      if (track.known[i] !== 1 || !(overlapS > 0)) continue;
      knownS += overlapS;
      wayM += track.stepM[i]! * (overlapS / spanS);
      if (track.moving[i] === 1) movingS += overlapS;
      if (!Number.isNaN(track.slope[i]!)) {
        slopeSum += track.slope[i]!;
        slopeCount += 1;
      }
    }
    const known = knownS >= LEAST_KNOWN_SHARE * (endS - startS) && knownS > 0;
    return {
      speedMps: known ? wayM / knownS : null,
      slope: known && slopeCount > 0 ? slopeSum / slopeCount : null,
      movingShare: known ? movingS / knownS : null,
    };
  };
}
