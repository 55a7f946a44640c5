// Thirty high-impact runners, half of them retrained in their own runs.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const willy2016: Protocol = {
  id: "willy-2016",
  title: "In the field, +7.5 %, eight sessions",
  source: {
    authors: "Willy, Buchenic, Rogacki, Ackerman, Schmidt & Willson",
    year: 2016,
    title:
      "In-field gait retraining and mobile monitoring to address running biomechanics associated with tibial stress fracture",
    titleFrom: "memory",
    where: "Scand J Med Sci Sports 26(2):197-205, abstract",
  },
  trained: "a higher step rate, outdoors",
  riseShare: { value: 0.075, kind: "published" },
  weeks: { value: 2, kind: "from-memory", note: "Remembered as two to four weeks; the shortest is used." },
  sessionCount: { value: 8, kind: "published" },
  minutes: {
    value: { kind: "linear", startMinutes: 10, endMinutes: 30 },
    kind: "from-memory",
    note: "Remembered as about 10 rising to about 30 minutes.",
  },
  cue: { value: "display of step rate from a body-worn sensor", kind: "published" },
  cueSchedule: {
    value: fadedCue,
    kind: "from-memory",
    note: "Remembered as full for the first half, then part of the run; the exact shares are ours.",
  },
  result: { value: "+8.6 % step rate, kept after 30 days; load rates about 18 % lower", kind: "published" },
};
