// Constants behind rules P1–P12: stages, sessions, minutes, fading and recall.
import { evidence, type Evidence, type Source } from "./evidence.ts";

const davis2020: Source = {
  authors: "Davis, Tenforde, Neal, Roper & Willy",
  year: 2020,
  title: "Gait Retraining as an Intervention for Patellofemoral Pain",
  titleFrom: "memory",
  where: "Curr Rev Musculoskelet Med 13, abstract (PMC7083994); author list from memory",
};

const crowell2011: Source = {
  authors: "Crowell & Davis",
  year: 2011,
  title: "Gait retraining to reduce lower extremity loading in runners",
  titleFrom: "memory",
  where: "Clin Biomech 26:78-83, and a later review's table of it",
};

export const stageStepSpm = evidence({
  id: "stage-step",
  value: 2,
  unit: "spm",
  kind: "common-practice",
  note: "Two more steps a minute per stage, one more per foot: small enough to hear and hold. Coaching caution; no trial tested small weekly steps.",
});

export const followedTempoShare = evidence({
  id: "followed-tempo",
  value: 0.025,
  unit: "share of baseline",
  range: [0, 0.03],
  kind: "from-memory",
  source: {
    authors: "Van Dyck, Moens, Buhmann, Demey, Coorevits, Dalla Bella & Leman",
    year: 2015,
    title: "Spontaneous Entrainment of Running Cadence to Music Tempo",
    titleFrom: "memory",
    where: "Sports Med Open 1:15; shifts up to 3 % read in the abstract, the limit near 2.5 % is from memory",
  },
  note: "Runners follow a beat up to about 2.5 % quicker without being asked; a stage never asks for more.",
});

export const stageGridSpm = evidence({
  id: "stage-grid",
  value: 0.5,
  unit: "spm",
  kind: "ours",
  note: "Stage targets are rounded down to half a step a minute, so that a stage is never larger than it says.",
});

export const stageCountMax = evidence({
  id: "stage-count",
  value: 5,
  unit: "stages",
  kind: "ours",
  note: "Five stages, then consolidation, fill a ten-week programme; whatever is left waits for the next one.",
});

export const stageDaysMin = evidence({
  id: "stage-days",
  value: 7,
  unit: "days",
  kind: "ours",
  note: "A stage lasts at least a week. No trial tested weekly steps; this is coaching caution.",
});

export const stageSessionsMin = evidence({
  id: "stage-sessions",
  value: 3,
  unit: "sessions",
  kind: "ours",
  note: "A stage lasts at least three sessions with the beat. Trials met runners three or four times a week.",
});

export const sessionsPerWeek = evidence({
  id: "sessions-per-week",
  value: 3,
  unit: "sessions",
  range: [1, 6],
  kind: "published",
  source: davis2020,
  note: "The longest-lasting results came from three or four sessions a week.",
});

export const sessionMinutesStart = evidence({
  id: "session-minutes-start",
  value: 15,
  unit: "min",
  kind: "published",
  source: crowell2011,
  note: "Trials that taught by feedback began with 15 minutes of running.",
});

export const sessionMinutesEnd = evidence({
  id: "session-minutes-end",
  value: 30,
  unit: "min",
  kind: "published",
  source: crowell2011,
  note: "The same trials ended with 30 minutes of running.",
});

export const trialDoseMinutes = evidence({
  id: "trial-dose",
  value: 180,
  unit: "min",
  range: [177, 196],
  kind: "published",
  source: davis2020,
  note: "Programmes with lasting results added up to 177 to 196 minutes of running.",
});

export const fadeTailShares = evidence({
  id: "fade-tail",
  value: [0.75, 0.5, 0.25, 0.1] as readonly number[],
  unit: "share of the run with the beat on",
  kind: "derived",
  source: crowell2011,
  note: "Feedback was taken away over the last four of eight sessions. The exact shares are ours, shaped on that.",
});

export const fadeFromShare = evidence({
  id: "fade-from",
  value: 0.5,
  unit: "share of the sessions",
  kind: "published",
  source: crowell2011,
  note: "The first half of the sessions have full feedback; then it is taken away step by step.",
});

export const consolidationWeeks = evidence({
  id: "consolidation-weeks",
  value: 2,
  unit: "weeks",
  kind: "ours",
  note: "Two weeks at the last stage with the beat fading, before it is left to the runner.",
});

export const raceQuietDays = evidence({
  id: "race-quiet",
  value: 14,
  unit: "days",
  kind: "common-practice",
  note: "Nothing new in the last two weeks before a race.",
});

export const raceEasingDays = evidence({
  id: "race-easing",
  value: 7,
  unit: "days",
  kind: "common-practice",
  note: "The week before a race is an easy one.",
});

export const raceEasingShare = evidence({
  id: "race-easing-share",
  value: 0.5,
  unit: "share of the minutes",
  kind: "ours",
  note: "In the easing week the beat sessions are half as long.",
});

export const raceRestDays = evidence({
  id: "race-rest",
  value: 1,
  unit: "days",
  kind: "common-practice",
  note: "No beat session on the day before, of or after a race.",
});

export const recallMonths = evidence({
  id: "recall-months",
  value: [1, 3, 6] as readonly number[],
  unit: "months",
  kind: "published",
  source: {
    authors: "Van den Berghe et al.; Bowser et al.; Willy et al.",
    year: 2024,
    title: "Follow-ups of retraining trials at one, three and six months and at a year",
    titleFrom: "description",
    where: "J Sports Sci 2024; Med Sci Sports Exerc 2018 50:2500-2506; Clin Biomech 2012 (abstracts)",
  },
  note: "Some trials found the change kept, one found it only after a reminder. So it is looked at again after 1, 3 and 6 months with the beat off.",
});

export const missedWeeksBack = evidence({
  id: "missed-weeks-back",
  value: 2,
  unit: "weeks",
  kind: "ours",
  note: "One missed week repeats the stage, two step back one. Nothing missed ever speeds the plan up.",
});

export const oneThingAtATime = evidence({
  id: "one-thing-at-a-time",
  value: 7,
  unit: "days",
  kind: "ours",
  note: "For the first week of a new stage distance and intensity stay as they were: the minutes with the beat are new load for the calf.",
});

export const weeklyStepsUntested = evidence({
  id: "weekly-steps-untested",
  value: "no trial tested small weekly steps",
  unit: "finding",
  kind: "ours",
  note: "Trials went straight to 5 to 10 %. The gentle weekly ladder is coaching caution, not a trial result.",
});

export const plansEvidence: readonly Evidence<unknown>[] = [
  stageStepSpm,
  followedTempoShare,
  stageGridSpm,
  stageCountMax,
  stageDaysMin,
  stageSessionsMin,
  sessionsPerWeek,
  sessionMinutesStart,
  sessionMinutesEnd,
  trialDoseMinutes,
  fadeTailShares,
  fadeFromShare,
  consolidationWeeks,
  raceQuietDays,
  raceEasingDays,
  raceEasingShare,
  raceRestDays,
  recallMonths,
  missedWeeksBack,
  oneThingAtATime,
  weeklyStepsUntested,
];
