// What the picture of a run shows, from its analysis.
import type { Analysis } from "../../engine/analysis/analysis.ts";
import type { CueBlock } from "../../engine/recordings/recording.ts";

export interface RunPictureData {
  readonly durationS: number;
  /** Running only; both feet. */
  readonly points: readonly { readonly timeS: number; readonly stepRateSpm: number }[];
  readonly cues: readonly CueBlock[];
  readonly beatOn: BeatPart;
  readonly beatOff: BeatPart;
  readonly all: BeatPart;
  readonly distanceM: number | null;
  readonly movingS: number;
}

/** Means weighted by time; null where there was less than half a minute of it. */
export interface BeatPart {
  readonly runningS: number;
  readonly stepRateSpm: number | null;
  readonly speedMps: number | null;
}

const LEAST_S = 30;

export function pictureOf(analysis: Analysis, cues: readonly CueBlock[]): RunPictureData {
  const running = analysis.windows.filter((window) => window.state === "running" && window.stepRateSpm !== null);
  return {
    durationS: analysis.durationS,
    points: running.flatMap(({ startS, endS, stepRateSpm }) =>
      stepRateSpm === null ? [] : [{ timeS: (startS + endS) / 2, stepRateSpm }],
    ),
    cues,
    beatOn: partOf(running.filter((window) => window.cue === "on")),
    beatOff: partOf(running.filter((window) => window.cue === "off")),
    all: partOf(running),
    distanceM: analysis.distanceM,
    movingS: analysis.movingS,
  };
}

function partOf(windows: Analysis["windows"]): BeatPart {
  const mean = (read: (window: Analysis["windows"][number]) => number | null): number | null => {
    let sum = 0;
    let seconds = 0;
    for (const window of windows) {
      const value = read(window);
      if (value === null) continue;
      const lengthS = window.endS - window.startS;
      sum += value * lengthS;
      seconds += lengthS;
    }
    return seconds < LEAST_S ? null : sum / seconds;
  };
  return {
    runningS: windows.reduce((sum, window) => sum + window.endS - window.startS, 0),
    stepRateSpm: mean((window) => window.stepRateSpm),
    speedMps: mean((window) => window.speedMps),
  };
}
