// The schedule that later studies copied.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const crowell2011: Protocol = {
  id: "crowell-2011",
  title: "Eight sessions in two weeks, feedback taken away",
  source: {
    authors: "Crowell & Davis",
    year: 2011,
    title: "Gait retraining to reduce lower extremity loading in runners",
    titleFrom: "memory",
    where: "Clin Biomech 26:78-83 (PMC3014399), with a later review's table",
  },
  trained: "less shock at the shin, half of the runner's own or lower",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 2, kind: "published" },
  sessionCount: { value: 8, kind: "published" },
  minutes: { value: { kind: "linear", startMinutes: 15, endMinutes: 30 }, kind: "published" },
  cue: { value: "picture of the shock, step by step", kind: "published" },
  cueSchedule: {
    value: fadedCue,
    kind: "published",
    note: "Taken away over the last four sessions; the exact shares are ours.",
  },
  result: { value: "shock about 50 % and load rates about 30 % lower, still at one month", kind: "published" },
};
