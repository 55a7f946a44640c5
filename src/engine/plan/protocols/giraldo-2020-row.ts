// A row of a review; the study itself was not read.
import type { Protocol } from "../protocol.ts";

export const giraldo2020Row: Protocol = {
  id: "giraldo-2020-row",
  title: "Four weeks of 400 to 1000 m repeats",
  source: {
    authors: "Giraldo-Pedroza, Lee, Lam, Coman & Alici (names after the first from memory)",
    year: 2020,
    title: "Effects of Wearable Devices with Biofeedback on Biomechanical Performance of Running: A Systematic Review",
    titleFrom: "memory",
    where: "Sensors 20:6637, feedback table",
  },
  trained: "less shock at the shin, 75 to 80 % of the runner's own",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 4, kind: "published" },
  sessionCount: { value: 8, kind: "published", note: "Outdoors, repeats of 400 to 1000 m." },
  minutes: {
    value: { kind: "linear", startMinutes: 15, endMinutes: 30 },
    kind: "ours",
    note: "Not given; the usual growth of such programmes.",
  },
  cue: { value: "shock told at the rests", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "ours", note: "No fading is given." },
  result: { value: "not used for advice", kind: "published" },
};
