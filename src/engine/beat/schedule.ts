// The shapes of a beat: what is asked for, and the exact schedule that file, phone and lane all play.
import { type BlockKind } from "../session/session.ts";
import { type Rational } from "./rational.ts";

/** One rate for one length of time: a lane, the standing drill, a plain track. */
export interface SteadyBeat {
  /** Both feet, one beat per step. */
  readonly stepRateSpm: number;
  readonly durationS: number;
}

/**
 * Where the beat plays in a block whose cueShare is below 1.
 * `first`: at the start, then silence to the end, so that the rest of the block shows what stays.
 * `cycles`: at the start of each cycle of cueCycleS, as a reminder that comes back.
 * `around`: half at the start and half at the end, a silent probe between them.
 */
export type CuePlacement = "first" | "cycles" | "around";

export interface BeatOptions {
  /** Whole number of samples a second, 8000–192000. Default 44100. */
  readonly sampleRateHz?: number;
  /** Every n-th beat is accented, the first one included; 0 (default) for none. */
  readonly accentEvery?: number;
  /** Beats that count the runner in, before the block, in the silence there; 0 (default) to 16. */
  readonly countInBeats?: number;
  /** Announce each block, and the end, by tones. Default false. */
  readonly announce?: boolean;
  /** Lengths of the announcements in seconds, one for each block and one for the end, when they are more than tones. */
  readonly announcementLengthsS?: readonly number[];
  /** Default `first`. */
  readonly cuePlacement?: CuePlacement;
  /** Length of a cycle for `cycles`, at least 10 s. Default 60. */
  readonly cueCycleS?: number;
}

export type Voice = "left" | "right";
export type AnnouncementId = BlockKind | "end";

interface EventTime {
  /** Sample that the sound starts on: the exact time, rounded half up. */
  readonly sampleIndex: number;
  /** Exact time to within 1e-9 s. */
  readonly timeS: number;
  /** Which block of the session it belongs to, from 0. */
  readonly blockIndex: number;
}

export interface StepEvent extends EventTime {
  readonly kind: "click" | "count-in";
  readonly voice: Voice;
  readonly accent: boolean;
}

export interface AnnounceEvent extends EventTime {
  readonly kind: "announce";
  readonly announcement: AnnouncementId;
  /** Place among the announcements: the block's index, and the number of blocks for the end. */
  readonly announcementIndex: number;
}

export type BeatEvent = StepEvent | AnnounceEvent;

/** A block of the session on the track's clock. */
interface BeatBlock {
  readonly kind: BlockKind;
  readonly startS: number;
  readonly endS: number;
}

/** A stretch in which the beat sounds at one rate or one even ramp. Half-open: [startS, endS). */
export interface BeatSpan {
  readonly blockIndex: number;
  readonly startS: Rational;
  readonly endS: Rational;
  readonly startRateHz: Rational;
  readonly endRateHz: Rational;
  /** Only the first span of a block is counted in. */
  readonly opensBlock: boolean;
}

/** Beats `firstBeat` … `firstBeat + beatCount − 1` of one unbroken run of beats, at closed-form times. */
export interface BeatSegment {
  readonly kind: "click" | "count-in";
  readonly blockIndex: number;
  readonly startS: Rational;
  readonly startRateHz: Rational;
  /** Change of the rate per second, Hz/s; 0 when steady. */
  readonly rateSlopeHz2: Rational;
  /** Beats since the run began, at startS; beat n falls where the phase is n. Negative while counting in. */
  readonly startPhase: Rational;
  readonly firstBeat: number;
  readonly beatCount: number;
  /** The fractions above as doubles, made once and used for every beat. */
  readonly clock: SegmentClock;
}

interface SegmentClock {
  readonly startS: number;
  readonly rateHz: number;
  readonly slopeHz2: number;
  /** Phase from the segment's start to its first beat, 0 ≤ … < 1. */
  readonly toFirstBeat: number;
}

export interface BeatSchedule {
  readonly sampleRateHz: number;
  /** Session time plus lead-in. */
  readonly durationS: number;
  /** Length of the track; long enough that the last sound is not cut. */
  readonly sampleCount: number;
  /** Time before the first block, for its announcement and count-in. 0 when there are none. */
  readonly leadInS: number;
  /** Beats without the count-in. */
  readonly beatCount: number;
  readonly blocks: readonly BeatBlock[];
  readonly spans: readonly BeatSpan[];
  readonly segments: readonly BeatSegment[];
  readonly announcements: readonly AnnounceEvent[];
  /** In the order of `announcements`. */
  readonly announcementLengthsS: readonly number[];
  readonly accentEvery: number;
  readonly countInBeats: number;
}
