// Where in the session a moment of the beat's clock is: which block, how long it lasts, is the beat on.
import type { BeatSchedule } from "../../engine/beat/schedule.ts";
import { toNumber } from "../../engine/beat/rational.ts";
import type { BlockKind } from "../../engine/session/session.ts";
import { hzToSpm } from "../../engine/quantities/units.ts";

export interface SessionMoment {
  readonly kind: BlockKind | "lead-in" | "over";
  readonly blockIndex: number;
  readonly leftS: number;
  readonly next: BlockKind | undefined;
  /** Both feet, while the beat sounds. */
  readonly beatSpm: number | undefined;
}

export function momentAt(schedule: BeatSchedule, timeS: number): SessionMoment {
  const { blocks } = schedule;
  const beatSpm = beatAt(schedule, timeS)?.targetSpm;
  const first = blocks[0];
  if (first !== undefined && timeS < first.startS)
    return { kind: "lead-in", blockIndex: 0, leftS: first.startS - timeS, next: first.kind, beatSpm };
  const blockIndex = blocks.findIndex((block) => timeS >= block.startS && timeS < block.endS);
  const block = blocks[blockIndex];
  if (block === undefined)
    return { kind: "over", blockIndex: blocks.length, leftS: 0, next: undefined, beatSpm: undefined };
  return { kind: block.kind, blockIndex, leftS: block.endS - timeS, next: blocks[blockIndex + 1]?.kind, beatSpm };
}

export interface CueStretch {
  readonly cue: "on" | "off";
  /** When it began, seconds of the schedule. */
  readonly startS: number;
  readonly targetSpm?: number;
}

/** The stretch of beat on or off that a moment lies in; undefined before the session's first block and after its last. */
export function cueAt(schedule: BeatSchedule, timeS: number): CueStretch | undefined {
  const startS = schedule.blocks[0]?.startS ?? 0;
  const endS = schedule.blocks.at(-1)?.endS ?? 0;
  if (timeS < startS || timeS >= endS) return undefined;
  const sounding = beatAt(schedule, timeS);
  if (sounding !== undefined) return { cue: "on", ...sounding };
  const ends = schedule.spans.map((span) => toNumber(span.endS)).filter((spanEndS) => spanEndS <= timeS);
  return { cue: "off", startS: Math.max(startS, ...ends) };
}

function beatAt(
  schedule: BeatSchedule,
  timeS: number,
): { readonly startS: number; readonly targetSpm: number } | undefined {
  for (const span of schedule.spans) {
    const startS = toNumber(span.startS);
    const endS = toNumber(span.endS);
    if (timeS < startS || timeS >= endS) continue;
    const share = (timeS - startS) / (endS - startS);
    const [fromHz, toHz] = [toNumber(span.startRateHz), toNumber(span.endRateHz)];
    // To a tenth: a ramp's stretch carries the rate that it began with.
    return {
      startS,
      targetSpm: Math.round(10 * hzToSpm(fromHz === toHz ? fromHz : fromHz + share * (toHz - fromHz))) / 10,
    };
  }
  return undefined;
}
