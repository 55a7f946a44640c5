// Running windows by what the beat was doing.
import type { RateWindow } from "../recordings/window.ts";

export type RatedWindow = RateWindow & { readonly stepRateSpm: number };

/** Left out after the beat starts or stops: the step rate needs a moment to follow. */
const AFTER_SWITCH_S = 15;

/** Rated running windows with the beat on, at least 15 s after it started. */
export function cueOnWindows(windows: readonly RateWindow[]): RatedWindow[] {
  return settledAfterSwitch(windows).filter((window) => window.cue === "on");
}

/** Rated running windows with the beat off that come after the beat was on, at least 15 s after it stopped. */
export function cueOffAfterOnWindows(windows: readonly RateWindow[]): RatedWindow[] {
  const firstOnS = Math.min(...windows.filter((window) => window.cue === "on").map((window) => window.endS));
  return settledAfterSwitch(windows).filter((window) => window.cue === "off" && window.startS >= firstOnS);
}

function settledAfterSwitch(windows: readonly RateWindow[]): RatedWindow[] {
  const sorted = windows.toSorted((a, b) => a.startS - b.startS);
  let cue: RateWindow["cue"] = null;
  let sinceS = -Infinity;
  return sorted.filter((window): window is RatedWindow => {
    if (window.cue !== cue) {
      cue = window.cue;
      sinceS = window.startS;
    }
    return (
      window.state === "running" &&
      window.stepRateSpm !== null &&
      window.quality >= 0.5 &&
      window.startS >= sinceS + AFTER_SWITCH_S
    );
  });
}
