// Thirty-eight runners, randomised.
import type { Protocol } from "../protocol.ts";

export const baumgartner2019: Protocol = {
  id: "baumgartner-2019",
  title: "Six weeks on your own, +10 %",
  source: {
    authors: "Baumgartner, Gusmer, Hollman & Finnoff",
    year: 2019,
    title:
      "Increased stride-rate in runners following an independent retraining program: A randomized controlled trial",
    titleFrom: "memory",
    doi: "10.1111/sms.13509",
    where: "Scand J Med Sci Sports, abstract",
  },
  trained: "a higher step rate in the runner's own training; entry at 170 spm or below",
  riseShare: { value: 0.1, kind: "published" },
  weeks: { value: 6, kind: "published" },
  sessionCount: { value: 18, kind: "ours", note: "Own runs with a log; three a week here." },
  minutes: { value: { kind: "constant", minutes: 30 }, kind: "ours", note: "Own runs; thirty minutes here." },
  cue: { value: "display of step rate worn on the body", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "ours", note: "No fading was set." },
  result: { value: "159.8 to 173.6 spm, +8.6 %, against +1.1 % in the control group", kind: "published" },
};
