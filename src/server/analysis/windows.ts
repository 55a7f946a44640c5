// The windows of a recording that count, with the coach's own marks on them.
import type { CueBlock } from "../../engine/recordings/recording.ts";
import type { RateWindow } from "../../engine/recordings/window.ts";
import type { RecordingInput } from "./runner-state.ts";

/** Inside the trim; cue blocks that the coach set go before those of the file. */
export function keptWindows(
  recording: Pick<RecordingInput, "windows" | "trimStartS" | "trimEndS" | "cueBlocks">,
): RateWindow[] {
  const { trimStartS, trimEndS, cueBlocks } = recording;
  return recording.windows
    .filter((window) => window.startS >= trimStartS && (trimEndS === null || window.endS <= trimEndS))
    .map((window) => (cueBlocks.length === 0 ? window : { ...window, cue: cueAt(cueBlocks, window) }));
}

/** The block that holds the window's middle. */
export function cueAt(blocks: readonly CueBlock[], window: Pick<RateWindow, "startS" | "endS">): "on" | "off" | null {
  const middleS = (window.startS + window.endS) / 2;
  return blocks.find((block) => middleS >= block.startS && middleS < block.endS)?.cue ?? null;
}
