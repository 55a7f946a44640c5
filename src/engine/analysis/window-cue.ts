import type { CueBlock } from "../recordings/recording.ts";

/** The cue of a window that lies wholly inside one marked block; null otherwise. */
export function cueOfWindow(blocks: readonly CueBlock[], startS: number, endS: number): "on" | "off" | null {
  return blocks.find((block) => block.startS <= startS && endS <= block.endS)?.cue ?? null;
}
