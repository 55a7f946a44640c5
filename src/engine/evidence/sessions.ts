// Constants behind sessions, drills and cards.
import { evidence, type Evidence } from "./evidence.ts";

export const warmUpS = evidence({
  id: "warm-up",
  value: 600,
  unit: "s",
  kind: "common-practice",
  note: "Ten easy minutes before anything is asked; the first minutes of a run do not count for measuring either.",
});

export const standingDrillS = evidence({
  id: "standing-drill",
  value: 120,
  unit: "s",
  kind: "common-practice",
  note: "Two minutes of stepping on the spot with the beat, so that it is in the feet before the run.",
});

export const probeS = evidence({
  id: "probe",
  value: 180,
  unit: "s",
  kind: "ours",
  note: "Three minutes without the beat at the end of the main part show what carries over.",
});

export const coolDownS = evidence({
  id: "cool-down",
  value: 300,
  unit: "s",
  kind: "common-practice",
  note: "Five easy minutes to end with.",
});

export const beatTurnS = evidence({
  id: "beat-turn",
  value: 360,
  unit: "s",
  kind: "ours",
  note: "Beat on and beat off take turns about every six minutes.",
});

export const shortestCueS = evidence({
  id: "shortest-cue",
  value: 60,
  unit: "s",
  kind: "ours",
  note: "A beat under a minute is over before the feet have found it.",
});

export const recallCheckS = evidence({
  id: "recall-check",
  value: 900,
  unit: "s",
  kind: "derived",
  source: {
    authors: "Godin et al.; García-Pinillos et al.",
    year: 2018,
    title: "How many steps make a steady mean",
    titleFrom: "description",
    where: "abstracts: means need 16 to 150 steps; the first minutes of a run settle (preprint 2026)",
  },
  note: "A quarter of an hour without the beat, at the usual easy speed, after the warm-up: more than enough steps for a mean.",
});

export const sessionsEvidence: readonly Evidence<unknown>[] = [
  warmUpS,
  standingDrillS,
  probeS,
  coolDownS,
  beatTurnS,
  shortestCueS,
  recallCheckS,
];
