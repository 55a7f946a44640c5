// A motion recording to step rate windows, contacts and asymmetry.
import { type Warning } from "../quantities/problem.ts";
import { type MotionRecording } from "../recordings/recording.ts";
import { restOrDead } from "./decide-point.ts";
import { createFeatureStore } from "./feature-store.ts";
import { settleGaits } from "./gait-chain.ts";
import { createMotionFrontEnd, MOTION_FEATURE_RATE_HZ, MOTION_GROUP_SIZES } from "./motion-features.ts";
import { placeContacts } from "./place-contacts.ts";
import { createRateCore, WINDOW_S } from "./rate-core.ts";
import { type RateTrack } from "./rate-track.ts";
import { gatherWindows } from "./rate-windows.ts";
import { type StepAnalysis } from "./step-analysis.ts";
import { createTrackBuilder } from "./track-builder.ts";
import { TRACK_HOP_S } from "./track-rate.ts";

export interface AnalyseMotionOptions {
  /** Analysis points a second. Default 1. */
  readonly hopS?: number;
}

/**
 * Step rate, contacts and timing asymmetry of a recording at 20–200 Hz, of any placement and orientation; gaps, jitter,
 * duplicates and lost samples allowed. Cost is linear: about a quarter of a second for an hour at 100 Hz, and a day fits
 * in memory. Fewer than 3 s of samples give one window without a rate. Never a rate where the signal is ambiguous: the
 * window says why instead. docs/method/step-rate.md and contacts.md.
 */
export function analyseMotion(recording: MotionRecording, options: AnalyseMotionOptions = {}): StepAnalysis {
  const hopS = options.hopS ?? TRACK_HOP_S;
  const builder = createTrackBuilder(hopS);
  const store = createFeatureStore(MOTION_FEATURE_RATE_HZ);
  const core = createRateCore({
    featureRateHz: MOTION_FEATURE_RATE_HZ,
    groupSizes: MOTION_GROUP_SIZES,
    content: "acceleration",
    hopS,
    onWindow: builder.add,
  });
  const front = createMotionFrontEnd({
    feature(values, measured) {
      core.push(values, measured);
      store.add(values[4]!, values[3]!);
    },
    begin(timeS) {
      core.finish();
      builder.breakPath();
      core.begin(timeS);
      store.begin(timeS);
    },
  });
  const { timeS, accelXMps2, accelYMps2, accelZMps2 } = recording;
  const samples = { timeS, x: accelXMps2, y: accelYMps2, z: accelZMps2 };
  for (let i = 0; i < timeS.length; i += 1) front.push(samples, i);
  core.finish();
  const points = settleGaits(builder.finish());
  const hasMoved = points.some((point) => point.reason !== "no-signal");
  const track: RateTrack = { windowS: WINDOW_S, hopS, points: points.map((point) => restOrDead(point, hasMoved)) };
  const contacts = placeContacts(store.finish(), track.points);
  const durationS = timeS.length > 0 ? Math.max(0, timeS[timeS.length - 1]!) : 0;
  return {
    windows: gatherWindows(track, durationS, recording.cueBlocks, contacts.stepTimesS),
    ...contacts,
    track,
    warnings: warningsOf(recording, front.skippedCount),
  };
}

function warningsOf(recording: MotionRecording, skippedCount: number): readonly Warning[] {
  const warnings: Warning[] = [];
  const n = recording.timeS.length;
  if (skippedCount > 0)
    warnings.push({
      code: "samples-skipped",
      message: `${skippedCount} of ${n} samples were left out: a repeated or backward time, or a value that is no number.`,
    });
  const clippedShare = shareAtRange(recording);
  if (clippedShare > 0.005)
    warnings.push({
      code: "samples-clipped",
      message: `${(100 * clippedShare).toFixed(1)} % of the samples stop at one largest value: the sensor's range is too small for this placement. Step rates still hold.`,
    });
  const constant = axesThatNeverMove(recording);
  if (constant !== "")
    warnings.push({
      code: "axis-constant",
      message: `The ${constant} axis holds one number throughout: the sensor or the export lost it. The others are used; a new recording is better.`,
    });
  const spanS = n > 1 ? recording.timeS[n - 1]! - recording.timeS[0]! : 0;
  const rateHz = spanS > 0 ? (n - 1) / spanS : 0;
  if (n > 10 && rateHz < 20)
    warnings.push({
      code: "low-sample-rate",
      message: `The recording has ${rateHz.toFixed(1)} samples a second; 20 is the least for steps, 50 or more is good.`,
    });
  return warnings;
}

/** The axes of a moving sensor that give one number throughout, in words; nothing when all do: that sensor is off or at rest. */
function axesThatNeverMove({ accelXMps2, accelYMps2, accelZMps2 }: MotionRecording): string {
  const axes = { x: accelXMps2, y: accelYMps2, z: accelZMps2 };
  const constant = Object.entries(axes).flatMap(([name, axis]) => (axis.every((a) => a === axis[0]) ? [name] : []));
  return constant.length === 3 ? "" : constant.join(" and ");
}

/** Share of the samples that sit at the largest value of their axis, when that value is met again and again. */
function shareAtRange(recording: MotionRecording): number {
  let most = 0;
  for (const axis of [recording.accelXMps2, recording.accelYMps2, recording.accelZMps2]) {
    let top = 0;
    let count = 0;
    for (let i = 0; i < axis.length; i += 1) {
      const size = Math.abs(axis[i]!);
      if (size > top) {
        top = size;
        count = 1;
      } else if (size === top) count += 1;
    }
    // A still or constant axis repeats its largest value without touching any limit.
    if (top > 15) most = Math.max(most, count / axis.length);
  }
  return most;
}
