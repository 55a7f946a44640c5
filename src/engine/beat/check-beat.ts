// What a session must state before a beat can be made of it, and what the options may be.
import { type SessionBlock } from "../session/session.ts";
import { type Problem } from "../quantities/problem.ts";
import { BEAT_RATE_LIMITS_SPM, LONGEST_TRACK_S } from "../evidence/beats.ts";
import { blockDurationS } from "./timeline.ts";
import { toNumber } from "./rational.ts";
import { type BeatOptions } from "./schedule.ts";

const MOST_BLOCKS = 1000;
const SHORTEST_CYCLE_S = 10;
const MOST_COUNT_IN_BEATS = 16;

/** Every problem of the blocks, at most one per field; empty when a beat can be made. */
export function blockProblems(blocks: readonly SessionBlock[]): readonly Problem[] {
  if (blocks.length === 0 || blocks.length > MOST_BLOCKS)
    return [
      problem("block-count", "blocks", String(blocks.length), `1 to ${MOST_BLOCKS} blocks`, "Add or merge blocks."),
    ];
  const problems = blocks.flatMap((block, index) => problemsOfBlock(block, `blocks[${index}]`));
  if (problems.length > 0) return problems.slice(0, 20);
  const totalS = blocks.reduce((sum, block) => sum + toNumber(blockDurationS(block)), 0);
  if (totalS <= LONGEST_TRACK_S.value) return [];
  return [
    problem(
      "session-too-long",
      "blocks",
      `${totalS} s in all`,
      `at most ${LONGEST_TRACK_S.value} s`,
      "Shorten or split the session.",
    ),
  ];
}

function problemsOfBlock(block: SessionBlock, at: string): Problem[] {
  const problems: Problem[] = [];
  const positive = (value: number | undefined): boolean => value !== undefined && Number.isFinite(value) && value > 0;
  if ((block.durationS === undefined) === (block.distanceM === undefined))
    problems.push(
      problem(
        "block-length",
        at,
        `durationS ${block.durationS}, distanceM ${block.distanceM}`,
        "exactly one of durationS and distanceM",
        "Give the block a time or a distance.",
      ),
    );
  for (const field of ["durationS", "distanceM", "speedMps"] as const)
    if (block[field] !== undefined && !positive(block[field]))
      problems.push(
        problem("not-positive", `${at}.${field}`, String(block[field]), "a number above 0", "Correct the value."),
      );
  if (block.distanceM !== undefined && block.speedMps === undefined)
    problems.push(
      problem(
        "distance-without-speed",
        `${at}.speedMps`,
        "none",
        "the speed held over the distance, in m/s",
        "Give the speed, or the block's time instead of its distance.",
      ),
    );
  const { low, high } = BEAT_RATE_LIMITS_SPM.value;
  for (const field of ["stepRateSpm", "endStepRateSpm"] as const) {
    const rate = block[field];
    if (rate !== undefined && !(rate >= low && rate <= high))
      problems.push(
        problem(
          "beat-rate",
          `${at}.${field}`,
          String(rate),
          `${low} to ${high} steps per minute, both feet`,
          "Correct the rate; is it a count of both feet?",
        ),
      );
  }
  if (block.stepRateSpm === undefined && (block.kind === "cue-on" || block.endStepRateSpm !== undefined))
    problems.push(
      problem("no-beat", `${at}.stepRateSpm`, "none", "the rate of the beat", "Give the block its step rate."),
    );
  if (block.cueShare !== undefined && !(block.cueShare >= 0 && block.cueShare <= 1))
    problems.push(
      problem("cue-share", `${at}.cueShare`, String(block.cueShare), "a share from 0 to 1", "Correct the share."),
    );
  return problems;
}

function problem(code: string, field: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: { field }, got, expected, remedy };
}

/** Options are the caller's code, so a wrong one throws. */
export function checkOptions(options: BeatOptions): void {
  const { sampleRateHz = 44_100, accentEvery = 0, countInBeats = 0, cueCycleS = SHORTEST_CYCLE_S } = options;
  requireInteger("sampleRateHz", sampleRateHz, 8000, 192_000);
  requireInteger("accentEvery", accentEvery, 0, 1000);
  requireInteger("countInBeats", countInBeats, 0, MOST_COUNT_IN_BEATS);
  if (!(cueCycleS >= SHORTEST_CYCLE_S && Number.isFinite(cueCycleS)))
    throw new RangeError(`createBeatSchedule: cueCycleS must be at least ${SHORTEST_CYCLE_S}, got ${cueCycleS}`);
}

function requireInteger(name: string, value: number, low: number, high: number): void {
  if (!Number.isInteger(value) || value < low || value > high)
    throw new RangeError(`createBeatSchedule: ${name} must be a whole number from ${low} to ${high}, got ${value}`);
}
