// What shapes the sound of the beat. Loudness and hearing values are our own caution where no source is named.
import { type Evidence, evidence } from "./evidence.ts";

export const CUE_EVERY_STEP = evidence({
  id: "beat-on-every-step",
  value: 1,
  unit: "beats per step",
  kind: "published",
  source: {
    authors: "Nijs, Roerdink & Beek (names from memory)",
    year: 2020,
    title: "Brain Sciences 10(5):273, on pacing runners by step or by stride",
    titleFrom: "description",
    where: "abstract, PMC7288070",
  },
  note: "In 16 experienced runners a beat on every step gave steadier coordination than a beat on every stride, so every step gets one.",
});

export const BEAT_RATE_LIMITS_SPM = evidence({
  id: "beat-rate-limits",
  value: { low: 40, high: 300 },
  unit: "spm",
  kind: "ours",
  note: "Wider than any running cadence of both feet (120 to 220), so that drills fit; outside it a typing mistake is likelier than an intention.",
});

export const LONGEST_TRACK_S = evidence({
  id: "longest-beat",
  value: 86_400,
  unit: "s",
  kind: "ours",
  note: "A beat lasts at most a day; a longer one is a typing mistake.",
});

export const COUNT_IN_BEATS = evidence({
  id: "count-in-beats",
  value: 8,
  unit: "beats",
  kind: "common-practice",
  note: "A count-in of two or four bars is a musician's habit; eight steps are about three seconds to find the beat.",
});

export const CLICK_BAND_HZ = evidence({
  id: "click-band",
  value: { low: 1000, high: 4000 },
  unit: "Hz",
  kind: "from-memory",
  source: {
    authors: "International Organization for Standardization",
    year: 2023,
    title: "ISO 226, Acoustics: normal equal-loudness-level contours",
    titleFrom: "memory",
    where: "shape of the contours between 1 and 4 kHz, from memory; nobody here opened the standard",
  },
  note: "Hearing is keenest from about 1 to 4 kHz, and traffic is strongest below it, so a quiet click there is still heard.",
});

export const PEAK_CEILING_DBFS = evidence({
  id: "beat-peak-ceiling",
  value: -1,
  unit: "dBFS",
  kind: "common-practice",
  note: "A decibel of headroom keeps a compressed copy from clipping when it is decoded.",
});

export const RMS_CEILING_DBFS = evidence({
  id: "beat-rms-ceiling",
  value: -18,
  unit: "dBFS",
  kind: "ours",
  note: "No second of a track is louder than this on average, so that turning up a beat does not turn it into a siren.",
});

export const SOFT_START_S = evidence({
  id: "click-soft-start",
  value: 0.001,
  unit: "s",
  range: [0, 0.002],
  kind: "ours",
  note: "A click swells for a thousandth of a second: sharp enough to step on, without the crack of an instant start.",
});

export const DEFAULT_CUE_CYCLE_S = evidence({
  id: "cue-cycle",
  value: 60,
  unit: "s",
  kind: "ours",
  note: "When reminders come back in turn, they come back each minute.",
});

export const HEARING_CAUTION = evidence({
  id: "hearing-caution",
  value:
    "Keep the beat quiet enough to hear traffic and a voice beside you, leave one ear free outdoors, and follow local rules on headphones. Stop and rest your ears if they ring or feel dull; if that lasts, see a doctor.",
  unit: "text",
  kind: "common-practice",
  note: "Ordinary care with headphones on the road; how loud a device plays is not known to the software.",
});

export const beatsEvidence: readonly Evidence<unknown>[] = [
  CUE_EVERY_STEP,
  BEAT_RATE_LIMITS_SPM,
  LONGEST_TRACK_S,
  COUNT_IN_BEATS,
  CLICK_BAND_HZ,
  PEAK_CEILING_DBFS,
  RMS_CEILING_DBFS,
  SOFT_START_S,
  DEFAULT_CUE_CYCLE_S,
  HEARING_CAUTION,
];
