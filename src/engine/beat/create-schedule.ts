// From a session to its exact beat.
import { COUNT_IN_BEATS } from "../evidence/beats.ts";
import { type Result, fail, succeed } from "../quantities/problem.ts";
import { type Session, type SessionBlock } from "../session/session.ts";
import { announcementLengthS } from "./announcements.ts";
import { blockProblems, checkOptions } from "./check-beat.ts";
import { beatSampleIndex } from "./beat-times.ts";
import { type Rational, ZERO, add, ceil, fromDecimal, multiply, rational, toNumber } from "./rational.ts";
import {
  type AnnounceEvent,
  type AnnouncementId,
  type BeatOptions,
  type BeatSchedule,
  type BeatSegment,
  type BeatSpan,
  type SteadyBeat,
} from "./schedule.ts";
import { buildSegments, countInS } from "./segments.ts";
import { type TimedBlock, blocksOf, layOut, sounds, spmToExactHz } from "./timeline.ts";

/** Longer than any click, so that the last one rings out. */
const SOUND_TAIL_S = 0.08;
const ANNOUNCEMENT_GAP_S = 0.25;
export const DEFAULT_SAMPLE_RATE_HZ = 44_100;

/** What a runner's session track has unless someone chose otherwise. */
export const SESSION_TRACK: BeatOptions = { announce: true, countInBeats: COUNT_IN_BEATS.value };

/**
 * The exact beat of a session or of one steady rate.
 *
 * Rates, times and shares are taken as the decimals they print as, and all boundaries and phases are exact fractions of
 * them, so nothing accumulates: beat n of a steady block lies at start + 60·n/stepRateSpm. Blocks are half-open, a beat
 * on the very end belongs to what follows. A problem is returned for a session no beat can be made of; wrong options throw.
 */
export function createBeatSchedule(source: Session | SteadyBeat, options: BeatOptions = {}): Result<BeatSchedule> {
  checkOptions(options);
  const blocks = blocksOf(source);
  const problems = blockProblems(blocks);
  if (problems.length > 0) return fail(...problems);
  const sampleRateHz = options.sampleRateHz ?? DEFAULT_SAMPLE_RATE_HZ;
  const countInBeats = options.countInBeats ?? 0;
  const announcementLengthsS = options.announce === true ? announcementLengths(blocks, options) : [];
  const leadInS = leadIn(blocks[0]!, announcementLengthsS[0], countInBeats);
  const timeline = layOut(blocks, leadInS, options);
  const announcements =
    options.announce === true
      ? announce(timeline.blocks, timeline.spans, { sampleRateHz, countInBeats, announcementLengthsS })
      : [];
  return succeed(
    completeSchedule(timeline.spans, {
      sampleRateHz,
      durationS: toNumber(timeline.endS),
      sampleCount: Number(ceil(multiply(timeline.endS, rational(BigInt(sampleRateHz))))),
      leadInS: toNumber(leadInS),
      blocks: timeline.blocks.map(({ kind, startS, endS }) => ({
        kind,
        startS: toNumber(startS),
        endS: toNumber(endS),
      })),
      announcements,
      announcementLengthsS,
      accentEvery: options.accentEvery ?? 0,
      countInBeats,
    }),
  );
}

type Frame = Omit<BeatSchedule, "spans" | "segments" | "beatCount">;

/** Adds spans and their segments to a schedule's frame. */
export function completeSchedule(spans: readonly BeatSpan[], frame: Frame): BeatSchedule {
  const segments = buildSegments(spans, frame.countInBeats);
  return {
    ...frame,
    spans,
    segments,
    beatCount: segments.reduce((sum, { kind, beatCount }) => sum + (kind === "click" ? beatCount : 0), 0),
    sampleCount: Math.max(frame.sampleCount, lastSoundEnd(segments, frame)),
  };
}

/** The given lengths, or those of the tones: one for each block and one for the end. */
function announcementLengths(blocks: readonly SessionBlock[], options: BeatOptions): readonly number[] {
  const ids: readonly AnnouncementId[] = [...blocks.map(({ kind }) => kind), "end"];
  return ids.map((id, index) => options.announcementLengthsS?.[index] ?? announcementLengthS(id));
}

/** Room before the first block for its announcement and, when it opens with a beat, its count-in. */
function leadIn(first: SessionBlock, lengthS: number | undefined, countInBeats: number): Rational {
  const announcementS = lengthS === undefined ? ZERO : fromDecimal(lengthS + ANNOUNCEMENT_GAP_S);
  return sounds(first) ? add(announcementS, countInS(countInBeats, spmToExactHz(first.stepRateSpm!))) : announcementS;
}

/** Each announcement ends just before its block's count-in or, failing that, its start; "end" follows the last block. */
function announce(
  blocks: readonly TimedBlock[],
  spans: readonly BeatSpan[],
  context: Pick<Frame, "sampleRateHz" | "countInBeats" | "announcementLengthsS">,
): readonly AnnounceEvent[] {
  const countIns = new Map<number, number>();
  for (const segment of buildSegments(spans, context.countInBeats))
    if (segment.kind === "count-in") countIns.set(segment.blockIndex, toNumber(segment.startS));
  const event = (announcement: AnnouncementId, announcementIndex: number, timeS: number): AnnounceEvent => ({
    kind: "announce",
    announcement,
    announcementIndex,
    blockIndex: Math.min(announcementIndex, blocks.length - 1),
    timeS,
    sampleIndex: Math.round(timeS * context.sampleRateHz),
  });
  let earliestS = 0;
  const events = blocks.map(({ kind, startS }, blockIndex) => {
    const targetS = countIns.get(blockIndex) ?? toNumber(startS);
    const timeS = Math.max(earliestS, targetS - ANNOUNCEMENT_GAP_S - context.announcementLengthsS[blockIndex]!);
    earliestS = toNumber(startS);
    return event(kind, blockIndex, timeS);
  });
  return [...events, event("end", blocks.length, toNumber(blocks.at(-1)!.endS))];
}

function lastSoundEnd(segments: readonly BeatSegment[], frame: Frame): number {
  const lastSegment = segments.findLast(({ beatCount }) => beatCount > 0);
  const lastBeat =
    lastSegment === undefined
      ? 0
      : beatSampleIndex(lastSegment, lastSegment.beatCount - 1, frame.sampleRateHz) +
        Math.ceil(SOUND_TAIL_S * frame.sampleRateHz);
  const lastAnnouncement = frame.announcements.at(-1);
  if (lastAnnouncement === undefined) return lastBeat;
  const ringS = frame.announcementLengthsS.at(-1)!;
  return Math.max(lastBeat, lastAnnouncement.sampleIndex + Math.ceil(ringS * frame.sampleRateHz));
}
