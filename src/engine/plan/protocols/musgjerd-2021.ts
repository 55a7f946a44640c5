// Fifteen recreational runners.
import type { Protocol } from "../protocol.ts";

export const musgjerd2021: Protocol = {
  id: "musgjerd-2021",
  title: "One run outdoors, +10 %",
  source: {
    authors: "Musgjerd, Anason, Rutherford & Kernozek",
    year: 2021,
    title: "Effect of Increasing Running Cadence on Peak Impact Force in an Outdoor Environment",
    titleFrom: "memory",
    where: "Int J Sports Phys Ther 16(4), abstract",
  },
  trained: "a higher step rate on a 2.4-mile run",
  riseShare: { value: 0.1, kind: "published" },
  weeks: { value: 1, kind: "published" },
  sessionCount: { value: 1, kind: "published" },
  minutes: {
    value: { kind: "constant", minutes: 23 },
    kind: "ours",
    note: "2.4 miles were run; 23 minutes at 6:00 per km here.",
  },
  cue: { value: "metronome", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "published" },
  result: { value: "+7.3 % reached of the 10 % asked; peak force 5.6 % lower", kind: "published" },
};
