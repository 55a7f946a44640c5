// Sessions and schedules for the tests of the beat.
import fc from "fast-check";
import { createBeatSchedule } from "../src/engine/beat/create-schedule.ts";
import { beatEvents } from "../src/engine/beat/events.ts";
import { type BeatOptions, type BeatSchedule, type SteadyBeat, type StepEvent } from "../src/engine/beat/schedule.ts";
import { type Session, type SessionBlock } from "../src/engine/session/session.ts";

export function scheduleOf(source: Session | SteadyBeat, options: BeatOptions = {}): BeatSchedule {
  const result = createBeatSchedule(source, options);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

export function session(...blocks: readonly SessionBlock[]): Session {
  return { id: "s", title: "Test session", blocks };
}

export function steps(schedule: BeatSchedule): StepEvent[] {
  return [...beatEvents(schedule)].filter((event) => event.kind !== "announce");
}

const anyBlock = fc.record({
  kind: fc.constantFrom("cue-on", "cue-off", "standing-drill", "strides"),
  durationS: fc.integer({ min: 1, max: 900 }).map((tenths) => tenths / 10),
  stepRateSpm: fc.integer({ min: 1200, max: 2200 }).map((tenths) => tenths / 10),
  endStepRateSpm: fc.integer({ min: 120, max: 220 }),
  cueShare: fc.constantFrom(1, 1, 0.5, 0.1),
}) satisfies fc.Arbitrary<SessionBlock>;

const anyOptions = fc.record({
  accentEvery: fc.integer({ min: 0, max: 8 }),
  countInBeats: fc.integer({ min: 0, max: 8 }),
  announce: fc.boolean(),
  cuePlacement: fc.constantFrom("first", "cycles", "around"),
  sampleRateHz: fc.constantFrom(22_050, 44_100, 48_000),
}) satisfies fc.Arbitrary<BeatOptions>;

/** One to six short blocks at 120–220 spm with any options. */
export const anySchedule = fc
  .tuple(fc.array(anyBlock, { minLength: 1, maxLength: 6 }), anyOptions)
  .map(([blocks, options]) => scheduleOf(session(...blocks), options));
