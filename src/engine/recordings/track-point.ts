// One point of a track on its way from a file to a recording. Missing values are NaN.

export interface TrackPoint {
  /** Line of the file, or data row of a table: for telling where. */
  readonly place: number;
  /** Index of the segment that it stood in. */
  readonly segment: number;
  /** UTC or, without a clock, milliseconds from any start; NaN when missing. */
  readonly timeMs: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM: number;
  readonly speedMps: number;
  readonly distanceM: number;
  /** As the file has it: per foot or both, to be found out. */
  readonly cadence: number;
  readonly heartRateBpm: number;
  readonly cue?: "on" | "off";
  readonly targetSpm?: number;
}

const EARTH_MEAN_RADIUS_M = 6_371_008.8;
const DEGREE = Math.PI / 180;

/** Distance on a sphere (haversine), within 0.6 % of the ellipsoid: for judging a file, never for a result. */
export function roughDistanceM(a: TrackPoint, b: TrackPoint): number {
  const dLat = (b.latitudeDeg - a.latitudeDeg) * DEGREE;
  const dLon = (b.longitudeDeg - a.longitudeDeg) * DEGREE;
  const h =
    Math.sin(dLat / 2) ** 2 +
    Math.cos(a.latitudeDeg * DEGREE) * Math.cos(b.latitudeDeg * DEGREE) * Math.sin(dLon / 2) ** 2;
  return 2 * EARTH_MEAN_RADIUS_M * Math.asin(Math.min(1, Math.sqrt(h)));
}
