// Twelve runners with patellofemoral pain; a case series.
import type { Protocol } from "../protocol.ts";

export const bramah2019: Protocol = {
  id: "bramah-2019",
  title: "One taught session, +10 %, then on your own",
  source: {
    authors: "Bramah, Preece, Gill & Herrington",
    year: 2019,
    title:
      "A 10% Increase in Step Rate Improves Running Kinematics and Clinical Outcomes in Runners With Patellofemoral Pain at 4 Weeks and 3 Months",
    where: "Am J Sports Med 47(14):3406-3413, abstract and record",
  },
  trained: "a higher step rate, runners with knee pain under care",
  riseShare: { value: 0.1, kind: "published" },
  weeks: { value: 4, kind: "published", note: "Four weeks to the first retest." },
  sessionCount: {
    value: 1,
    kind: "published",
    note: "One taught session; the runners' own runs between are not counted.",
  },
  sessionsInWeeks: { value: [1, 0, 0, 0], kind: "published" },
  minutes: { value: { kind: "constant", minutes: 10 }, kind: "second-hand" },
  cue: { value: "metronome, then watching themselves", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "ours", note: "No fading was set." },
  result: {
    value: "hip, pelvis and knee motion and pain better at 4 weeks and 3 months; no control group",
    kind: "published",
  },
};
