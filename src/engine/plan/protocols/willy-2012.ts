// Women with patellofemoral pain under care.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const willy2012: Protocol = {
  id: "willy-2012",
  title: "Mirror and words, eight sessions",
  source: {
    authors: "Willy, Scholz & Davis",
    year: 2012,
    title: "Mirror gait retraining for the treatment of patellofemoral pain in female runners",
    titleFrom: "memory",
    where: "Clin Biomech (PMC3501612), abstract",
  },
  trained: "hip and knee alignment seen in a mirror",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 2, kind: "from-memory" },
  sessionCount: { value: 8, kind: "published" },
  minutes: { value: { kind: "linear", startMinutes: 15, endMinutes: 30 }, kind: "from-memory" },
  cue: { value: "mirror and spoken cues", kind: "published" },
  cueSchedule: {
    value: fadedCue,
    kind: "published",
    note: "Taken away over the last four sessions; the exact shares are ours.",
  },
  result: { value: "kept at one and three months", kind: "published" },
};
