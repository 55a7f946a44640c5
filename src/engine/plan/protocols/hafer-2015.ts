// Six healthy runners, six weeks.
import type { Protocol } from "../protocol.ts";

export const hafer2015: Protocol = {
  id: "hafer-2015",
  title: "Half of the week's running at +10 %",
  source: {
    authors: "Hafer, Brown, deMille, Hillstrom & Garber",
    year: 2015,
    title: "The effect of a cadence retraining protocol on running biomechanics and efficiency: a pilot study",
    titleFrom: "memory",
    where: "J Sports Sci 33(7):724-731, second hand",
  },
  trained: "a higher step rate in the runner's own training",
  riseShare: { value: 0.1, kind: "second-hand" },
  weeks: { value: 6, kind: "second-hand" },
  sessionCount: { value: 18, kind: "ours", note: "Own runs, not counted in the study; three a week here." },
  minutes: {
    value: { kind: "constant", minutes: 30 },
    kind: "ours",
    note: "Own runs of their usual length; thirty minutes here.",
  },
  cue: { value: "metronome or music of the same tempo", kind: "second-hand" },
  cueSchedule: {
    value: { kind: "constant", share: 0.5 },
    kind: "second-hand",
    note: "At least half of the weekly distance.",
  },
  result: { value: "a small rise of the preferred step rate; running economy unchanged", kind: "second-hand" },
};
