// One run's steady minutes with speed and slope taken out: what the late-run strip draws.
import { SPEED_EXPONENT, UPHILL_EFFECT } from "../../engine/evidence/change.ts";
import { steadyMinutes } from "../../engine/change/steady-minutes.ts";
import type { LateRunData } from "../../ui/pictures/late-run-strip.tsx";
import type { Window } from "./window-model.ts";

const LEAST_MINUTES = 9;

/** Minutes at the run's own mean speed on level ground; undefined with fewer than nine, as for the drop itself. */
export function lateRunData(windows: readonly Window[]): LateRunData | undefined {
  const { minutes } = steadyMinutes(windows);
  if (minutes.length < LEAST_MINUTES) return undefined;
  const meanLnSpeed = minutes.reduce((sum, minute) => sum + minute.lnSpeed, 0) / minutes.length;
  const points = minutes.map((minute) => ({
    timeS: minute.timeS,
    adjustedSpm: Math.exp(
      minute.lnStepRate -
        SPEED_EXPONENT.value.mean * (minute.lnSpeed - meanLnSpeed) -
        UPHILL_EFFECT.value.mean * Math.max(0, minute.slope),
    ),
  }));
  const third = Math.floor(points.length / 3);
  return {
    points,
    firstThirdSpm: median(points.slice(0, third).map((point) => point.adjustedSpm)),
    lastThirdSpm: median(points.slice(-third).map((point) => point.adjustedSpm)),
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  return ((sorted[Math.ceil(middle) - 1] ?? 0) + (sorted[Math.floor(middle)] ?? 0)) / 2;
}
