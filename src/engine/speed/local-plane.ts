// Positions on the ellipsoid laid out on a plane along the way that was run.

export interface PlanePath {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
}

/** WGS 84: semi-major axis and flattening, the defining parameters (NGA.STND.0036). */
const SEMI_MAJOR_M = 6_378_137;
const FLATTENING = 1 / 298.257223563;
const ECCENTRICITY_2 = FLATTENING * (2 - FLATTENING);
const DEGREE = Math.PI / 180;

/**
 * Lays a path on a plane step by step: each step's north and east parts use the ellipsoid's two radii of curvature at
 * the step's middle latitude (M for north, N · cos φ for east). Lengths along the path are right to 1e-7 for steps under
 * a kilometre at any latitude; places far apart on a long path are not where a map would have them. NaN in, NaN out: the
 * steps go from one known place to the next. Longitudes may cross ±180.
 */
export function toPlane(latitudeDeg: Float64Array, longitudeDeg: Float64Array): PlanePath {
  const eastM = new Float64Array(latitudeDeg.length).fill(NaN);
  const northM = new Float64Array(latitudeDeg.length).fill(NaN);
  let last = -1;
  for (let i = 0; i < latitudeDeg.length; i += 1) {
    if (!Number.isFinite(latitudeDeg[i]!) || !Number.isFinite(longitudeDeg[i]!)) continue;
    if (last < 0) {
      eastM[i] = 0;
      northM[i] = 0;
    } else {
      const middle = ((latitudeDeg[i]! + latitudeDeg[last]!) / 2) * DEGREE;
      const dLat = (latitudeDeg[i]! - latitudeDeg[last]!) * DEGREE;
      const dLon = (((((longitudeDeg[i]! - longitudeDeg[last]!) % 360) + 540) % 360) - 180) * DEGREE;
      const w2 = 1 - ECCENTRICITY_2 * Math.sin(middle) ** 2;
      const primeVerticalM = SEMI_MAJOR_M / Math.sqrt(w2);
      const meridianM = (primeVerticalM * (1 - ECCENTRICITY_2)) / w2;
      northM[i] = northM[last]! + meridianM * dLat;
      eastM[i] = eastM[last]! + primeVerticalM * Math.cos(middle) * dLon;
    }
    last = i;
  }
  return { eastM, northM };
}
