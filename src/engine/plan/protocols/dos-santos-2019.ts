// Eighteen runners in three groups.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const dosSantos2019: Protocol = {
  id: "dos-santos-2019",
  title: "Two weeks, +10 %",
  source: {
    authors: "dos Santos et al.",
    year: 2019,
    title: "Effects of three gait retraining techniques in runners with patellofemoral pain",
    titleFrom: "memory",
    where: "Phys Ther Sport 36:92-100, abstract",
  },
  trained: "a higher step rate, runners with knee pain under care",
  riseShare: { value: 0.1, kind: "published" },
  weeks: { value: 2, kind: "published" },
  sessionCount: { value: 8, kind: "from-memory" },
  minutes: { value: { kind: "linear", startMinutes: 15, endMinutes: 30 }, kind: "from-memory" },
  cue: { value: "metronome", kind: "from-memory" },
  cueSchedule: { value: fadedCue, kind: "from-memory", note: "Remembered as taken away over the last four sessions." },
  result: { value: "knee function better after six months in the step-rate group", kind: "published" },
};
