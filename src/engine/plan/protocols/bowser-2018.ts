// The only follow-up of a whole year.
import type { Protocol } from "../protocol.ts";

const rising = Array.from({ length: 8 }, (_, index) => 15 + (15 * index) / 7);

export const bowser2018: Protocol = {
  id: "bowser-2018",
  title: "Two weeks of running, then two weeks of soft landing",
  source: {
    authors: "Bowser, Fellin, Milner, Pohl & Davis (names after the first from memory)",
    year: 2018,
    title: "Reducing Impact Loading in Runners: A One-Year Follow-up",
    titleFrom: "memory",
    where: "Med Sci Sports Exerc 50:2500-2506, abstract",
  },
  trained: "a softer landing",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 4, kind: "published", note: "Two weeks without and two weeks with feedback." },
  sessionCount: { value: 16, kind: "published", note: "Eight without and eight with feedback." },
  minutes: { value: { kind: "listed", minutes: [...rising, ...rising] }, kind: "published" },
  cue: { value: "picture of the shock", kind: "published" },
  cueSchedule: {
    value: { kind: "listed", shares: [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0.75, 0.5, 0.25, 0.1] },
    kind: "published",
    note: "No feedback in the first eight; taken away over the last four, exact shares ours.",
  },
  result: { value: "shock and load rates 21 to 32 % lower, still lower after a year", kind: "published" },
};
