// Did the runner keep to the target while the beat played, and at what speed?
import { TARGET_BAND_SHARE } from "../evidence/change.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { cueOnWindows } from "./cue-windows.ts";
import { minuteMean } from "./minute-mean.ts";

export interface TimeInBand {
  /** Share of the cue-on time with the step rate inside the band, 0–1. */
  readonly inBandShare: number;
  readonly aboveShare: number;
  readonly belowShare: number;
  /** Cue-on time that counted, seconds. */
  readonly cueOnS: number;
}

const LEAST_CUE_ON_S = 60;

/**
 * Share of cue-on running time within target·(1 ± toleranceShare). The target may depend on speed (null when unknown).
 * Windows may overlap. Needs one minute of cue-on running; the first 15 s of each cue-on block do not count.
 */
export function timeInBand(
  windows: readonly RateWindow[],
  targetSpmAt: (speedMps: number | null) => number,
  toleranceShare: number = TARGET_BAND_SHARE.value,
): TimeInBand | NotEnough {
  let [inside, above, below] = [0, 0, 0];
  let coveredTo = -Infinity;
  for (const window of cueOnWindows(windows)) {
    const seconds = Math.max(0, window.endS - Math.max(window.startS, coveredTo));
    coveredTo = Math.max(coveredTo, window.endS);
    const target = targetSpmAt(window.speedMps);
    if (window.stepRateSpm > target * (1 + toleranceShare)) above += seconds;
    else if (window.stepRateSpm < target * (1 - toleranceShare)) below += seconds;
    else inside += seconds;
  }
  const cueOnS = inside + above + below;
  if (cueOnS < LEAST_CUE_ON_S)
    return { kind: "not-enough", need: "one minute of running with the beat on", have: `${Math.round(cueOnS)} s` };
  return { inBandShare: inside / cueOnS, aboveShare: above / cueOnS, belowShare: below / cueOnS, cueOnS };
}

/**
 * Speed while the beat was on, as percent above the planned speed: the trap of running faster instead of stepping quicker.
 * Needs two minutes of cue-on running with speed.
 */
export function speedDriftAtBeat(windows: readonly RateWindow[], plannedSpeedMps: number): Uncertain | NotEnough {
  if (!(plannedSpeedMps > 0))
    throw new RangeError(`speedDriftAtBeat: plannedSpeedMps must be positive, got ${plannedSpeedMps}`);
  return minuteMean(
    cueOnWindows(windows).flatMap((window) =>
      window.speedMps === null
        ? []
        : [{ timeS: (window.startS + window.endS) / 2, value: 100 * (window.speedMps / plannedSpeedMps - 1) }],
    ),
    "minutes with the beat on against the planned speed",
  );
}
