// Twenty-four recreational men, randomised.
import type { Protocol } from "../protocol.ts";

export const wang2020: Protocol = {
  id: "wang-2020",
  title: "Twelve weeks, +7.5 %",
  source: {
    authors: "Wang, Luo, Dai & Fu",
    year: 2020,
    title:
      "Effects of 12-week cadence retraining on impact peak, load rates and lower extremity biomechanics in running",
    doi: "10.7717/peerj.9813",
    where: "PeerJ 8:e9813, abstract",
  },
  trained: "a higher step rate",
  riseShare: { value: 0.075, kind: "published" },
  weeks: { value: 12, kind: "published" },
  sessionCount: { value: 36, kind: "from-memory", note: "Remembered as about three a week." },
  minutes: { value: { kind: "constant", minutes: 30 }, kind: "ours", note: "Not given; thirty minutes here." },
  cue: { value: "tempo by audio", kind: "from-memory" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "ours", note: "No fading is known." },
  result: { value: "impact peak about 10 % and load rates about 15 % lower", kind: "published" },
};
