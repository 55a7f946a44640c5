// Runners with patellofemoral pain under care.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const noehren2011: Protocol = {
  id: "noehren-2011",
  title: "Hip alignment, eight sessions",
  source: {
    authors: "Noehren, Scholz & Davis",
    year: 2011,
    title:
      "The effect of real-time gait retraining on hip kinematics, pain and function in subjects with patellofemoral pain syndrome",
    titleFrom: "memory",
    where: "Br J Sports Med 45:691-696, from memory",
  },
  trained: "less hip adduction",
  riseShare: { value: null, kind: "from-memory", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 2, kind: "from-memory" },
  sessionCount: { value: 8, kind: "from-memory" },
  minutes: { value: { kind: "linear", startMinutes: 15, endMinutes: 30 }, kind: "from-memory" },
  cue: { value: "picture of the hip angle", kind: "from-memory" },
  cueSchedule: { value: fadedCue, kind: "from-memory", note: "Taken away over the last four sessions." },
  result: { value: "pain and function better at one month", kind: "from-memory" },
};
