// The beat as a list of events, made as it is read: a day of beats needs no more memory than one.
import { beatSampleIndex, beatTimeS, firstBeatAtOrAfter } from "./beat-times.ts";
import { type BeatEvent, type BeatSchedule, type BeatSegment, type StepEvent } from "./schedule.ts";

/** Events at or after fromS in order of time, announcements first where two coincide. Each call starts afresh. */
export function* beatEvents(schedule: BeatSchedule, fromS = 0): Generator<BeatEvent, void, undefined> {
  const { announcements } = schedule;
  let next = lowerBound(announcements.length, (index) => announcements[index]!.timeS >= fromS);
  for (const step of stepEvents(schedule, fromS)) {
    for (; next < announcements.length && announcements[next]!.timeS <= step.timeS; next += 1)
      yield announcements[next]!;
    yield step;
  }
  for (; next < announcements.length; next += 1) yield announcements[next]!;
}

function* stepEvents(schedule: BeatSchedule, fromS: number): Generator<StepEvent, void, undefined> {
  const { segments } = schedule;
  // Segments are in order, so only the one before the first that starts later can hold fromS. A beat on the boundary may
  // round to either side of it, hence one earlier for safety.
  const after = lowerBound(segments.length, (index) => segments[index]!.clock.startS > fromS);
  for (let at = Math.max(0, after - 2); at < segments.length; at += 1) {
    const segment = segments[at]!;
    for (let index = firstBeatAtOrAfter(segment, fromS); index < segment.beatCount; index += 1)
      yield stepEvent(schedule, segment, index);
  }
}

function stepEvent(schedule: BeatSchedule, segment: BeatSegment, index: number): StepEvent {
  const { kind, blockIndex, firstBeat } = segment;
  const beat = firstBeat + index;
  return {
    kind,
    blockIndex,
    timeS: beatTimeS(segment, index),
    sampleIndex: beatSampleIndex(segment, index, schedule.sampleRateHz),
    voice: beat % 2 === 0 ? "left" : "right",
    accent: kind === "click" && schedule.accentEvery > 0 && beat % schedule.accentEvery === 0,
  };
}

/** Smallest index in [0, count] for which `holds` is true; `holds` must be false up to some index and true from there on. */
function lowerBound(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
