// Why recall checks come with a reminder.
import type { Protocol } from "../protocol.ts";
import { fadedCue } from "../schedule.ts";

export const vanDenBerghe2024: Protocol = {
  id: "van-den-berghe-2024",
  title: "Three weeks, six sessions with music",
  source: {
    authors: "Van den Berghe et al.",
    year: 2024,
    title: "Retention after music-based feedback on shock",
    titleFrom: "description",
    where: "J Sports Sci, abstract",
  },
  trained: "less shock at the shin",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 3, kind: "published" },
  sessionCount: { value: 6, kind: "published" },
  minutes: {
    value: { kind: "linear", startMinutes: 15, endMinutes: 30 },
    kind: "ours",
    note: "Not given; the usual growth of such programmes.",
  },
  cue: { value: "music in step, with noise when the shock is high", kind: "published" },
  cueSchedule: { value: fadedCue, kind: "published", note: "Faded; the exact shares are ours." },
  result: { value: "after six months only kept when runners were reminded", kind: "published" },
};
