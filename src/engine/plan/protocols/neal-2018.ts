// Eleven runners.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const neal2018: Protocol = {
  id: "neal-2018",
  title: "Six weeks, three a week, +7.5 %",
  source: {
    authors: "Neal, Barton, Birn-Jeffrey, Daley & Morrissey",
    year: 2018,
    title:
      "The effects & mechanisms of increasing running step rate: a feasibility study in a mixed-sex group of runners with patellofemoral pain",
    where: "Phys Ther Sport 32:244-251, record; schedule from memory",
  },
  trained: "a higher step rate, runners with knee pain under care",
  riseShare: { value: 0.075, kind: "from-memory" },
  weeks: { value: 6, kind: "from-memory" },
  sessionCount: { value: 18, kind: "from-memory" },
  minutes: { value: { kind: "linear", startMinutes: 10, endMinutes: 30 }, kind: "from-memory" },
  cue: { value: "metronome", kind: "from-memory" },
  cueSchedule: { value: fadedCue, kind: "from-memory", note: "Remembered as faded; the exact shares are ours." },
  result: { value: "worst pain 3.9 and average pain 2.1 lower of 10; no control group", kind: "published" },
};
