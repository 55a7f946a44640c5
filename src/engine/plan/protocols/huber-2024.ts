// Thirty-three novice and recreational adults, randomised.
import type { Protocol } from "../protocol.ts";

export const huber2024: Protocol = {
  id: "huber-2024",
  title: "One lesson, then two weeks of own runs, +7.5 %",
  source: {
    authors: "Huber & Verhoff",
    year: 2024,
    title: "Randomised trial of running with a metronome",
    titleFrom: "description",
    doi: "10.26603/001c.90909",
    where: "Int J Sports Phys Ther 19(1), abstract",
  },
  trained: "a higher step rate; 5 to 10 % was asked",
  riseShare: { value: 0.075, kind: "derived", note: "The middle of the 5 to 10 % asked." },
  weeks: { value: 2, kind: "published" },
  sessionCount: {
    value: 6,
    kind: "published",
    note: "One lesson, then two to three runs a week; the lesson and five runs here.",
  },
  minutes: {
    value: { kind: "listed", minutes: [5, 30] },
    kind: "published",
    note: "Five minutes in the lesson, up to 30 in a run; the upper end is used.",
  },
  cue: { value: "metronome", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "published", note: "The metronome ran all the way." },
  result: { value: "step rate rose, d = 0.84; nothing else changed", kind: "published" },
};
