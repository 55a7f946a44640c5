// One recording, of whatever kind, to one analysis.
import { geolocationAccuracySigmas } from "../evidence/speed.ts";
import { fail, succeed, type Result, type Warning } from "../quantities/problem.ts";
import type { MotionRecording, Recording, SoundRecording, Surface, TrackRecording } from "../recordings/recording.ts";
import type { RateWindow } from "../recordings/window.ts";
import { speedOfTrack, type SpeedTrack } from "../speed/speed-track.ts";
import { analyseMotion } from "../steps/analyse-motion.ts";
import { analyseSound } from "../steps/analyse-sound.ts";
import type { StepAnalysis } from "../steps/step-analysis.ts";
import type { Analysis } from "./analysis.ts";
import { summariseWindows } from "./summarise-windows.ts";
import { trackWindows } from "./track-windows.ts";
import { createWindowSpeed } from "./window-speed.ts";

export interface AnalyseOptions {
  /** What the coach knows and the recording does not say. */
  readonly surface?: Surface;
  /** A belt's speed, or a measured lap's, that held throughout; it outranks the recording. */
  readonly knownSpeedMps?: number;
  /** What the reader had to say; comes first in the warnings. */
  readonly readWarnings?: readonly Warning[];
}

/**
 * Windows, distance, moving time and summaries of a recording. Tracks: see trackWindows and speedOfTrack. Motion: steps
 * by analyseMotion, speed from the phone's own positions where it recorded them. Sound: steps by analyseSound. A known
 * speed is that of all running. Linear in the samples.
 */
export function analyseRecording(recording: Recording, options: AnalyseOptions = {}): Result<Analysis> {
  if (options.knownSpeedMps !== undefined && !(options.knownSpeedMps > 0 && options.knownSpeedMps < 12))
    return fail({
      code: "known-speed-out-of-range",
      where: { field: "knownSpeedMps" },
      got: String(options.knownSpeedMps),
      expected: "a speed above 0 and below 12 m/s",
      remedy: "Check the speed and its unit.",
    });
  switch (recording.kind) {
    case "gpx":
    case "csv-track":
      return analyseTrack(recording, options);
    case "motion":
      return analyseSteps(recording, analyseMotion(recording), options);
    case "sound":
      return analyseSteps(recording, analyseSound(recording), options);
  }
}

function analyseTrack(recording: TrackRecording, options: AnalyseOptions): Result<Analysis> {
  const speed = speedOfTrack(recording);
  const durationS = recording.timeS.at(-1) ?? 0;
  return finish(recording, options, {
    durationS,
    windows: trackWindows(recording, speed),
    speed,
    feetCounted: recording.feetCounted,
    stepTimesS: null,
    surface: options.surface ?? recording.surface,
    warnings: speed.warnings,
  });
}

function analyseSteps(
  recording: MotionRecording | SoundRecording,
  steps: StepAnalysis,
  options: AnalyseOptions,
): Result<Analysis> {
  const positions = recording.kind === "motion" ? recording.positions : undefined;
  const speed = positions === undefined ? undefined : speedOfPhone(positions);
  const speedOf = speed === undefined ? undefined : createWindowSpeed(speed);
  const windows = steps.windows.map((window) => {
    if (speedOf === undefined) return window;
    const { speedMps, slope } = speedOf(window.startS, window.endS);
    return { ...window, speedMps, slope };
  });
  const durationS =
    recording.kind === "motion" ? (recording.timeS.at(-1) ?? 0) : recording.samples.length / recording.sampleRateHz;
  return finish(recording, options, {
    durationS,
    windows,
    ...(speed === undefined ? {} : { speed }),
    feetCounted: "both",
    stepTimesS: steps.stepTimesS,
    surface: options.surface ?? (recording.kind === "motion" ? recording.surface : "unknown"),
    warnings: [...steps.warnings, ...(speed?.warnings ?? [])],
  });
}

interface Parts {
  readonly durationS: number;
  readonly windows: readonly RateWindow[];
  readonly speed?: SpeedTrack;
  readonly feetCounted: Analysis["feetCounted"];
  readonly stepTimesS: Float64Array | null;
  readonly surface: Surface;
  readonly warnings: readonly Warning[];
}

function finish(recording: Recording, options: AnalyseOptions, parts: Parts): Result<Analysis> {
  const { knownSpeedMps } = options;
  const windows =
    knownSpeedMps === undefined ? parts.windows : parts.windows.map((w) => withKnownSpeed(w, knownSpeedMps));
  const summary = summariseWindows(windows);
  // A belt moves nobody over ground: with a known speed the windows say how long it was run.
  const movingS = knownSpeedMps === undefined ? (parts.speed?.movingS ?? summary.movingS) : summary.movingS;
  const warnings = [...(options.readWarnings ?? []), ...parts.warnings];
  if (!windows.some((window) => window.state === "running"))
    warnings.push({ code: "no-running", message: "No stretch of running was found, so there are no running figures." });
  else if (summary.stepRateSpm === null)
    warnings.push({ code: "no-step-rate", message: "The recording has no step rate while running." });
  const distanceM =
    knownSpeedMps === undefined ? (parts.speed?.totalDistanceM ?? null) : knownSpeedMps * summary.runningS;
  return succeed(
    {
      kind: recording.kind,
      startedAt: recording.startedAtMs === undefined ? null : new Date(recording.startedAtMs).toISOString(),
      surface: parts.surface,
      durationS: parts.durationS,
      movingS,
      distanceM,
      stepRateSpm: summary.stepRateSpm,
      speedMps: summary.speedMps,
      stepLengthM: summary.stepLengthM,
      feetCounted: parts.feetCounted,
      windows,
      stepTimesS: parts.stepTimesS,
      warnings,
    },
    warnings,
  );
}

/** The known speed is that of running; standing and walking beside the belt keep what was measured. */
function withKnownSpeed(window: RateWindow, knownSpeedMps: number): RateWindow {
  return window.state === "running" ? { ...window, speedMps: knownSpeedMps } : window;
}

/** A phone's positions as a track of their own, on the recording's clock. */
function speedOfPhone(positions: NonNullable<MotionRecording["positions"]>): SpeedTrack | undefined {
  if (positions.timeS.length < 2) return undefined;
  const missing = positions.timeS.map(() => NaN);
  return speedOfTrack(
    {
      kind: "gpx",
      surface: "unknown",
      timeS: positions.timeS,
      latitudeDeg: positions.latitudeDeg,
      longitudeDeg: positions.longitudeDeg,
      elevationM: positions.elevationM,
      recordedSpeedMps: missing,
      recordedDistanceM: missing,
      stepRateSpm: missing,
      heartRateBpm: missing,
      feetCounted: "unknown",
      segmentStartIndex: [0],
      cueBlocks: [],
    },
    { noiseM: positions.accuracyM.map((accuracy) => accuracy / geolocationAccuracySigmas.value) },
  );
}
