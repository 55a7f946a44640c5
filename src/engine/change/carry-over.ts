// How much of the cued change remains when the beat stops.
import { SPEED_EXPONENT } from "../evidence/change.ts";
import type { NotEnough, Uncertain } from "../quantities/uncertain.ts";
import type { RateWindow } from "../recordings/window.ts";
import { cueOffAfterOnWindows, cueOnWindows, type RatedWindow } from "./cue-windows.ts";
import { minuteMean } from "./minute-mean.ts";

export interface CarryOverBaseline {
  readonly stepRateSpm: number;
  /** Speed at which the baseline holds; without it (or without window speeds) speed is not accounted for. */
  readonly speedMps?: number;
  /** Exponent of step rate over speed. Default 0.15. */
  readonly exponent?: number;
}

export interface CarryOver {
  /** Step rate above the baseline, at the baseline's speed, with the beat on and with it off again, spm. */
  readonly cueOnChangeSpm: Uncertain | NotEnough;
  readonly cueOffChangeSpm: Uncertain | NotEnough;
  /** Cue-off change as a share of the cue-on change: 1 all kept, 0 back at the baseline. */
  readonly keptShare: number | NotEnough;
  readonly speedAccountedFor: boolean;
}

/** Below this cued change (spm) a share of it means nothing. */
const SMALLEST_CUED_CHANGE_SPM = 1;

/** Carry-over of one session. Cue-off windows count only after the first cue-on block; the first 15 s after a switch are left out. */
export function carryOver(windows: readonly RateWindow[], baseline: CarryOverBaseline): CarryOver {
  const on = cueOnWindows(windows);
  const off = cueOffAfterOnWindows(windows);
  const speedAccountedFor =
    baseline.speedMps !== undefined && [...on, ...off].every((window) => window.speedMps !== null);
  const exponent = baseline.exponent ?? SPEED_EXPONENT.value.mean;
  const adjusted = (window: RatedWindow): number => {
    if (!speedAccountedFor || baseline.speedMps === undefined || window.speedMps === null)
      return window.stepRateSpm - baseline.stepRateSpm;
    return window.stepRateSpm * (baseline.speedMps / window.speedMps) ** exponent - baseline.stepRateSpm;
  };
  const mean = (list: readonly RatedWindow[]): Uncertain | NotEnough =>
    minuteMean(
      list.map((window) => ({ timeS: (window.startS + window.endS) / 2, value: adjusted(window) })),
      speedAccountedFor
        ? "speed-adjusted minutes against the baseline"
        : "minutes against the baseline, speed not known",
    );
  const cueOnChangeSpm = mean(on);
  const cueOffChangeSpm = mean(off);
  return { cueOnChangeSpm, cueOffChangeSpm, keptShare: shareOf(cueOnChangeSpm, cueOffChangeSpm), speedAccountedFor };
}

function shareOf(on: Uncertain | NotEnough, off: Uncertain | NotEnough): number | NotEnough {
  if ("kind" in on) return on;
  if ("kind" in off) return off;
  if (Math.abs(on.estimate) < SMALLEST_CUED_CHANGE_SPM)
    return { kind: "not-enough", need: "a cued change of at least 1 spm", have: `${on.estimate.toFixed(1)} spm` };
  return off.estimate / on.estimate;
}
