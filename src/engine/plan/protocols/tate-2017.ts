// Fourteen runners.
import type { Protocol } from "../protocol.ts";

export const tate2017: Protocol = {
  id: "tate-2017",
  title: "One session of quiet feet",
  source: {
    authors: "Tate & Milner",
    year: 2017,
    title: "Sound-Intensity Feedback During Running Reduces Loading Rates and Impact Peak",
    titleFrom: "memory",
    where: "J Orthop Sports Phys Ther 47(8):565-569, abstract",
  },
  trained: "quieter landing",
  riseShare: { value: null, kind: "published", note: "Not a step-rate study: only its schedule is used." },
  weeks: { value: 1, kind: "published" },
  sessionCount: { value: 1, kind: "published" },
  minutes: { value: { kind: "constant", minutes: 15 }, kind: "published" },
  cue: { value: "loudness of the landing", kind: "published" },
  cueSchedule: { value: { kind: "constant", share: 1 }, kind: "published", note: "Feedback was continuous." },
  result: {
    value: "load rates about 35 % lower at once; another study found loudness unrelated to load",
    kind: "published",
  },
};
