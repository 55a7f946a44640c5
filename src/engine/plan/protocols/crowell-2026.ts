// Soldiers with knee pain, under care.
import type { Protocol } from "../protocol.ts";

export const crowell2026: Protocol = {
  id: "crowell-2026",
  title: "Eight weeks at a distance, six contacts",
  source: {
    authors: "Crowell et al.",
    year: 2026,
    title: "Randomised trial of retraining by telehealth",
    titleFrom: "description",
    where: "record of the trial, n = 180",
  },
  trained: "a higher step rate and a changed foot strike, runners with knee pain under care",
  riseShare: { value: 0.05, kind: "ours", note: "The size of the rise is not given; the careful one here." },
  weeks: { value: 8, kind: "published" },
  sessionCount: { value: 6, kind: "published", note: "Contacts in weeks 1 to 4, 6 and 8." },
  sessionsInWeeks: { value: [1, 1, 1, 1, 0, 1, 0, 1], kind: "published" },
  minutes: {
    value: { kind: "linear", startMinutes: 15, endMinutes: 30 },
    kind: "ours",
    note: "Not given; the usual growth of such programmes.",
  },
  cue: { value: "beat and a look at video", kind: "published" },
  cueSchedule: {
    value: { kind: "constant", share: 1 },
    kind: "ours",
    note: "The contacts themselves grow rarer instead.",
  },
  result: { value: "see the record; not used for advice", kind: "published" },
};
