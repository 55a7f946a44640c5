// Three hundred and twenty novices, randomised.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const chan2018: Protocol = {
  id: "chan-2018",
  title: "Two weeks of a softer landing",
  source: {
    authors: "Chan, Zhang, Au, An, Shum, Ng & Cheung",
    year: 2018,
    title:
      "Gait Retraining for the Reduction of Injury Occurrence in Novice Distance Runners: 1-Year Follow-up of a Randomized Controlled Trial",
    titleFrom: "memory",
    where: "Am J Sports Med 46(2):388-395, abstract",
  },
  trained: "less vertical force at 8 and 12 km/h",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 2, kind: "published" },
  sessionCount: { value: 8, kind: "from-memory" },
  minutes: { value: { kind: "linear", startMinutes: 15, endMinutes: 30 }, kind: "from-memory" },
  cue: { value: "picture of the vertical force", kind: "published" },
  cueSchedule: { value: fadedCue, kind: "from-memory", note: "Remembered as taken away over the last four sessions." },
  result: { value: "fewer injuries over a year, and somewhat more calf and Achilles trouble", kind: "second-hand" },
};
