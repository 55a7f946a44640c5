// An invented run over invented ground, as a receiver would record it, with the truth beside it.
import { createRandom } from "../quantities/random.ts";
import type { TrackRecording } from "../recordings/recording.ts";

export interface TrackLeg {
  readonly durationS: number;
  /** 0 stands still. */
  readonly speedMps: number;
  /** Both feet; 0 while standing. */
  readonly stepRateSpm: number;
  /** Turning to the right; 0 runs straight. A 400 m track's bend at 3 m/s is 3 / 36.5. */
  readonly turnRadPerS?: number;
  /** Rise over run. */
  readonly slope?: number;
}

export interface TrackPlan {
  readonly seed: number;
  readonly legs: readonly TrackLeg[];
  readonly startedAtMs?: number;
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  readonly headingRad?: number;
  readonly elevationM?: number;
  /** Seconds between samples, a multiple of 0.1; default 1. */
  readonly sampleIntervalS?: number;
  readonly noise?: {
    /** Fresh at every sample, one axis. */
    readonly whiteM?: number;
    /** Wandering slowly (first-order, over `wanderTimeS`, default 60 s), one axis. */
    readonly wanderM?: number;
    readonly wanderTimeS?: number;
    /** Share of samples thrown 50 m aside. */
    readonly outlierShare?: number;
    /** Fresh at every sample. */
    readonly elevationM?: number;
    /** Wobble of the cadence sensor, spm. */
    readonly stepRateSpm?: number;
  };
}

export interface InventedTrack {
  readonly recording: TrackRecording;
  readonly truth: {
    /** At every sample. */
    readonly distanceM: Float64Array;
    readonly speedMps: Float64Array;
    readonly slope: Float64Array;
    readonly totalDistanceM: number;
    readonly movingS: number;
  };
}

const SUBSTEP_S = 0.1;
/** Mean radius of curvature is enough to place invented points: the truth is measured along the ground below. */
const SEMI_MAJOR_M = 6_378_137;
const ECCENTRICITY_2 = 0.00669437999014;
const DEGREE = Math.PI / 180;

/**
 * Runs the legs one after the other on the WGS 84 ellipsoid in steps of 0.1 s, and records with the noise asked for.
 * The same plan gives the same track. `feetCounted` is "both", surface "outdoor".
 */
export function inventTrack(plan: TrackPlan): InventedTrack {
  const random = createRandom(plan.seed);
  const every = Math.round((plan.sampleIntervalS ?? 1) / SUBSTEP_S);
  const rows: {
    timeS: number;
    lat: number;
    lon: number;
    ele: number;
    way: number;
    leg: TrackLeg;
  }[] = [];
  let [lat, lon] = [plan.latitudeDeg ?? 0.5, plan.longitudeDeg ?? 10.25];
  let [heading, ele, way, tick] = [plan.headingRad ?? 0, plan.elevationM ?? 100, 0, 0];
  let movingS = 0;
  for (const leg of plan.legs) {
    for (let k = 0; k < Math.round(leg.durationS / SUBSTEP_S); k += 1) {
      if (tick % every === 0) rows.push({ timeS: tick * SUBSTEP_S, lat, lon, ele, way, leg });
      const step = leg.speedMps * SUBSTEP_S;
      heading += (leg.turnRadPerS ?? 0) * SUBSTEP_S;
      const w2 = 1 - ECCENTRICITY_2 * Math.sin(lat * DEGREE) ** 2;
      const primeVerticalM = SEMI_MAJOR_M / Math.sqrt(w2);
      lon += (step * Math.sin(heading)) / (primeVerticalM * Math.cos(lat * DEGREE)) / DEGREE;
      lat += (step * Math.cos(heading) * w2) / (primeVerticalM * (1 - ECCENTRICITY_2)) / DEGREE;
      ele += step * (leg.slope ?? 0);
      way += step;
      tick += 1;
      if (leg.speedMps > 0) movingS += SUBSTEP_S;
    }
  }
  const last = plan.legs.at(-1);
  if (last === undefined) throw new RangeError("inventTrack: legs must hold at least 1, got 0");
  if (tick % every === 0) rows.push({ timeS: tick * SUBSTEP_S, lat, lon, ele, way, leg: last });

  const noise = plan.noise ?? {};
  const keep = Math.exp(-(plan.sampleIntervalS ?? 1) / (noise.wanderTimeS ?? 60));
  const wander = [random.normal(), random.normal()];
  const offsets = rows.map(() => {
    for (const axis of [0, 1]) wander[axis] = keep * wander[axis]! + Math.sqrt(1 - keep * keep) * random.normal();
    const thrown = random.next() < (noise.outlierShare ?? 0) ? 50 : 0;
    const angle = 2 * Math.PI * random.next();
    return {
      eastM: (noise.wanderM ?? 0) * wander[0]! + (noise.whiteM ?? 0) * random.normal() + thrown * Math.cos(angle),
      northM: (noise.wanderM ?? 0) * wander[1]! + (noise.whiteM ?? 0) * random.normal() + thrown * Math.sin(angle),
      eleM: (noise.elevationM ?? 0) * random.normal(),
      spm: (noise.stepRateSpm ?? 0) * random.normal(),
    };
  });
  const column = (of: (index: number) => number): Float64Array => Float64Array.from(rows, (_, index) => of(index));
  const metresPerDegree = SEMI_MAJOR_M * DEGREE;
  const missing = column(() => NaN);
  return {
    recording: {
      kind: "gpx",
      startedAtMs: plan.startedAtMs ?? Date.UTC(2026, 2, 1, 8),
      surface: "outdoor",
      timeS: column((i) => rows[i]!.timeS),
      latitudeDeg: column((i) => rows[i]!.lat + offsets[i]!.northM / metresPerDegree),
      longitudeDeg: column(
        (i) => rows[i]!.lon + offsets[i]!.eastM / (metresPerDegree * Math.cos(rows[i]!.lat * DEGREE)),
      ),
      elevationM: column((i) => rows[i]!.ele + offsets[i]!.eleM),
      recordedSpeedMps: missing,
      recordedDistanceM: missing,
      stepRateSpm: column((i) => (rows[i]!.leg.stepRateSpm > 0 ? rows[i]!.leg.stepRateSpm + offsets[i]!.spm : 0)),
      heartRateBpm: missing,
      feetCounted: "both",
      segmentStartIndex: [0],
      cueBlocks: [],
    },
    truth: {
      distanceM: column((i) => rows[i]!.way),
      speedMps: column((i) => rows[i]!.leg.speedMps),
      slope: column((i) => rows[i]!.leg.slope ?? 0),
      totalDistanceM: way,
      movingS,
    },
  };
}

/** The recording as GPX 1.1, cadence per foot or both, to 1e-7 degree (1 cm). */
export function writeGpx(recording: TrackRecording, options: { readonly cadence?: "one" | "both" } = {}): string {
  const share = (options.cadence ?? "both") === "one" ? 2 : 1;
  const points = Array.from(recording.timeS, (timeS, i) => {
    const time = new Date((recording.startedAtMs ?? 0) + 1000 * timeS).toISOString();
    const fields = [
      Number.isNaN(recording.stepRateSpm[i]!) ? "" : `<f:cad>${Math.round(recording.stepRateSpm[i]! / share)}</f:cad>`,
      Number.isNaN(recording.heartRateBpm[i]!) ? "" : `<f:hr>${Math.round(recording.heartRateBpm[i]!)}</f:hr>`,
    ].join("");
    const ele = Number.isNaN(recording.elevationM[i]!) ? "" : `<ele>${recording.elevationM[i]!.toFixed(1)}</ele>`;
    const place = `lat="${recording.latitudeDeg[i]!.toFixed(7)}" lon="${recording.longitudeDeg[i]!.toFixed(7)}"`;
    return `<trkpt ${place}>${ele}<time>${time}</time><extensions>${fields}</extensions></trkpt>`;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1" xmlns:f="urn:example:fields">',
    "<trk><name>Invented run</name><trkseg>",
    ...points,
    "</trkseg></trk></gpx>",
    "",
  ].join("\n");
}

/** The recording as a CSV track: seconds, places, elevation, step rate of both feet. */
export function writeTrackCsv(recording: TrackRecording): string {
  const cell = (value: number, digits: number): string => (Number.isNaN(value) ? "" : value.toFixed(digits));
  const rows = Array.from(recording.timeS, (timeS, i) =>
    [
      cell(timeS, 1),
      cell(recording.latitudeDeg[i]!, 7),
      cell(recording.longitudeDeg[i]!, 7),
      cell(recording.elevationM[i]!, 1),
      cell(recording.stepRateSpm[i]!, 1),
    ].join(","),
  );
  return ["time_s,lat,lon,elevation_m,cadence (steps/min)", ...rows, ""].join("\n");
}
