// Speed now, from the positions of the last seconds. For the screen only: what is kept are the positions.
import { toPlane } from "../../engine/speed/local-plane.ts";

const WINDOW_S = 12;
const LEAST_S = 5;
/** Worse than this a position says where, not how fast. Metres, as the receiver states it. */
const WORST_ACCURACY_M = 35;

export interface Fix {
  readonly timeS: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly accuracyM: number | null;
  /** The receiver's own, from the satellites' Doppler shift where it has it. */
  readonly speedMps: number | null;
}

export interface LiveSpeed {
  readonly push: (fix: Fix) => void;
  /** Metres per second over the last 12 s; null without five good seconds, or when the last is older than 6 s. */
  at(timeS: number): number | null;
}

/**
 * The median of the receiver's own speeds where it gives them, else the slope of position over time by least squares on
 * a local plane (the length of the two slopes). Both lag by about half the window.
 */
export function createLiveSpeed(): LiveSpeed {
  let fixes: Fix[] = [];
  return {
    push: (fix) => {
      if (fix.accuracyM !== null && fix.accuracyM > WORST_ACCURACY_M) return;
      const last = fixes.at(-1);
      if (last !== undefined && fix.timeS <= last.timeS) return;
      fixes = [...fixes.filter((one) => one.timeS > fix.timeS - WINDOW_S), fix];
    },
    at: (timeS) => {
      const first = fixes[0];
      const last = fixes.at(-1);
      if (first === undefined || last === undefined || timeS - last.timeS > LEAST_S + 1) return null;
      if (last.timeS - first.timeS < LEAST_S) return null;
      const own = fixes.flatMap((fix) => (fix.speedMps === null || Number.isNaN(fix.speedMps) ? [] : [fix.speedMps]));
      if (own.length === fixes.length) return own.toSorted((a, b) => a - b)[Math.floor(own.length / 2)] ?? null;
      return slopeSpeed(fixes);
    },
  };
}

function slopeSpeed(fixes: readonly Fix[]): number {
  const plane = toPlane(
    Float64Array.from(fixes, (fix) => fix.latitudeDeg),
    Float64Array.from(fixes, (fix) => fix.longitudeDeg),
  );
  const meanS = fixes.reduce((sum, fix) => sum + fix.timeS, 0) / fixes.length;
  let spread = 0;
  let east = 0;
  let north = 0;
  for (const [index, fix] of fixes.entries()) {
    const sinceS = fix.timeS - meanS;
    spread += sinceS * sinceS;
    east += sinceS * (plane.eastM[index] ?? 0);
    north += sinceS * (plane.northM[index] ?? 0);
  }
  return Math.hypot(east, north) / spread;
}
