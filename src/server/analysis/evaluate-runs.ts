// Each run on its own: where it stood at the reference speed, how well the beat was held, whether it held to the end.
import { SPEED_EXPONENT } from "../../engine/evidence/change.ts";
import { lateRunDrop } from "../../engine/change/late-run-drop.ts";
import { type RunMeans, speedSplit } from "../../engine/change/speed-split.ts";
import { steadyMinutes } from "../../engine/change/steady-minutes.ts";
import type { RateWindow } from "../../engine/recordings/window.ts";
import { stepRateAtSpeed } from "../../engine/target/speed-curve.ts";
import type { EvaluationInput, RecordingInput, RunFacts } from "./runner-state.ts";
import { keptWindows } from "./windows.ts";

interface Reference {
  readonly speedMps: number | null;
  readonly exponent: number | null;
}

/** Oldest first. Runs without a steady minute at a known speed are left out. */
export function evaluateRuns(input: EvaluationInput, reference: Reference): RunFacts[] {
  const exponent = reference.exponent ?? SPEED_EXPONENT.value.mean;
  const runs = input.recordings.flatMap((recording) => {
    const windows = keptWindows(recording);
    const means = meansOf(windows);
    return means === null ? [] : [{ recording, windows, means }];
  });
  const before = runs.filter((run) => run.recording.phase === "before").map((run) => run.means);
  return runs.map(({ recording, windows, means }): RunFacts => {
    const speedMps = Math.exp(means.lnSpeed);
    const stepRateSpm = Math.exp(means.lnStepRate);
    const others = before.filter((entry) => entry !== means);
    const split = others.length === 0 ? null : speedSplit(others, [means]);
    const targetSpm = targetOn(input, recording);
    const on = windows.filter((window) => isRunning(window) && beatOn(window, recording));
    const off = windows.filter((window) => isRunning(window) && window.cue === "off");
    const offMeans =
      off.length === 0
        ? null
        : meansOf(
            off.map((window) => ({ ...window })),
            0,
          );
    // Where the beat stopped on purpose the fall is carry-over, not fatigue.
    const drop = lateRunDrop(
      windows.filter((window) => window.cue !== "off"),
      { exponent },
    );
    return {
      recordingId: recording.id,
      startedAt: recording.startedAt,
      phase: recording.phase,
      surface: recording.surface,
      speedMps,
      stepRateSpm,
      // What is left of the change of step rate when the part that speed explains is taken away.
      matchedChangeSpm:
        split === null ? null : stepRateSpm * -Math.expm1(-(split.lnStepRate - exponent * split.lnSpeed)),
      split,
      lateRunDropSpm: "kind" in drop ? null : drop,
      targetSpm,
      inBandShare:
        recording.phase === "during" && targetSpm !== null
          ? inBandShare(on, targetSpm, input.settings.bandShare)
          : null,
      cuedSpeedMps: meanSpeed(on),
      cueOffSpm:
        offMeans === null || reference.speedMps === null
          ? null
          : stepRateAtSpeed(Math.exp(offMeans.lnStepRate), Math.exp(offMeans.lnSpeed), reference.speedMps, exponent),
      distanceM: recording.distanceM,
    };
  });
}

function meansOf(windows: readonly RateWindow[], settleS?: number): RunMeans | null {
  const { minutes } = steadyMinutes(windows, settleS === undefined ? {} : { settleS });
  if (minutes.length === 0) return null;
  const mean = (pick: (minute: (typeof minutes)[number]) => number): number =>
    minutes.reduce((sum, minute) => sum + pick(minute), 0) / minutes.length;
  return { lnSpeed: mean((minute) => minute.lnSpeed), lnStepRate: mean((minute) => minute.lnStepRate) };
}

/** In a run of the programme without any marks the beat is taken to have played throughout. */
function beatOn(window: RateWindow, recording: RecordingInput): boolean {
  return window.cue === "on" || (window.cue === null && recording.phase === "during");
}

function isRunning(window: RateWindow): boolean {
  return window.state === "running" && window.stepRateSpm !== null;
}

/** Share of the time with the beat on in which the step rate was within the band around the target; null without any. */
function inBandShare(windows: readonly RateWindow[], targetSpm: number, bandShare: number): number | null {
  let all = 0;
  let inside = 0;
  for (const window of windows) {
    if (window.stepRateSpm === null) continue;
    const seconds = window.endS - window.startS;
    all += seconds;
    if (Math.abs(window.stepRateSpm - targetSpm) <= bandShare * targetSpm) inside += seconds;
  }
  return all === 0 ? null : inside / all;
}

function meanSpeed(windows: readonly RateWindow[]): number | null {
  const speeds = windows.flatMap((window) => (window.speedMps === null ? [] : [window.speedMps]));
  return speeds.length === 0 ? null : speeds.reduce((sum, speed) => sum + speed, 0) / speeds.length;
}

/** As the recording says, else as the plan said on that day. */
function targetOn(input: EvaluationInput, recording: RecordingInput): number | null {
  const marked = recording.cueBlocks.find((block) => block.cue === "on" && block.targetSpm !== undefined)?.targetSpm;
  if (marked !== undefined) return marked;
  const day = recording.startedAt?.slice(0, 10);
  if (day === undefined) return null;
  return input.stageTargets.filter((stage) => stage.from <= day).at(-1)?.targetSpm ?? null;
}
