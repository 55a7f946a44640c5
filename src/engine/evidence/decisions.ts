// Constants behind the weekly decisions D1–D12.
import { evidence, type Evidence, type Source } from "./evidence.ts";

const fourPainRules: Source = {
  authors: "Vincent & Vincent",
  year: 2017,
  title: "When Is It Safe to Run? Applying Four Pain Rules",
  where: "Curr Sports Med Rep 16(3):122",
};

export const painReferLimit = evidence({
  id: "pain-refer-limit",
  value: 5,
  unit: "0-10 rating",
  kind: "second-hand",
  source: {
    authors: "Silbernagel, Thomeé, Eriksson & Karlsson",
    year: 2007,
    title:
      "Continued sports activity, using a pain-monitoring model, during rehabilitation in patients with Achilles tendinopathy",
    titleFrom: "memory",
    where: "Am J Sports Med 35:897-906, as told by several clinic pages: above 5 is not acceptable",
  },
  note: "Above 5 of 10 a runner stops and is seen by a clinician. The scale was made for Achilles trouble under clinical care; this rule is stricter.",
});

export const painEaseLimit = evidence({
  id: "pain-ease-limit",
  value: 3,
  unit: "0-10 rating",
  kind: "derived",
  source: fourPainRules,
  note: "From 3 of 10 the plan steps back one stage and the runner is asked again after a day. Stricter than the published rules, on purpose.",
});

export const painRecheckHours = evidence({
  id: "pain-recheck",
  value: 24,
  unit: "h",
  kind: "published",
  source: fourPainRules,
  note: "Joint pain must not last or grow by the next day.",
});

export const boneWarningSigns = evidence({
  id: "bone-warning-signs",
  value: "pain on one spot of bone, at night or at rest, worse as the run goes on, set off by hopping",
  unit: "finding",
  kind: "second-hand",
  source: {
    authors: "Warden, Davis & Fredericson",
    year: 2014,
    title: "Management and Prevention of Bone Stress Injuries in Long-Distance Runners",
    titleFrom: "memory",
    where: "J Orthop Sports Phys Ther 44:749-765, as told by a clinic page",
  },
  note: "These may be signs of a bone stress injury. A late diagnosis heals longer, so nobody runs on and waits.",
});

export const longRunLimitShare = evidence({
  id: "long-run-limit",
  value: 0.1,
  unit: "share of the longest run of the last 30 days",
  kind: "second-hand",
  source: {
    authors: "Schuster Brandt Frandsen et al.",
    year: 2025,
    title: "How much running is too much? Identifying high-risk running sessions in a 5200-person cohort study",
    titleFrom: "memory",
    where: "Br J Sports Med, as told by several pages: hazard ratio 1.64 for 10 to 30 % longer",
  },
  note: "A single run more than 10 % longer than the longest of the last 30 days went with more injuries; no new stage on top of that.",
});

export const longRunLookbackDays = evidence({
  id: "long-run-lookback",
  value: 30,
  unit: "days",
  kind: "second-hand",
  source: {
    authors: "Schuster Brandt Frandsen et al.",
    year: 2025,
    title: "How much running is too much? Identifying high-risk running sessions in a 5200-person cohort study",
    titleFrom: "memory",
    where: "Br J Sports Med, as told by several pages",
  },
  note: "The longest run is looked for in the last 30 days.",
});

export const inBandMoveOnShare = evidence({
  id: "in-band-move-on",
  value: 0.8,
  unit: "share of the time with the beat",
  kind: "ours",
  note: "In band for four fifths of the time with the beat: the stage is held.",
});

export const inBandEaseShare = evidence({
  id: "in-band-ease",
  value: 0.5,
  unit: "share of the time with the beat",
  kind: "ours",
  note: "In band for less than half the time, twice running: the stage is too big.",
});

export const carriedOverShare = evidence({
  id: "carried-over",
  value: 0.25,
  unit: "share of the cued rise",
  kind: "ours",
  note: "With the beat off, less than a quarter of the rise left counts as back at the baseline.",
});

export const runsPerSideMin = evidence({
  id: "runs-per-side",
  value: 2,
  unit: "runs",
  kind: "derived",
  source: {
    authors: "Craib et al.",
    year: 1994,
    title: "Daily variability of step length in trained male runners",
    titleFrom: "memory",
    where: "Int J Sports Med 15:80-83, abstract: 2.2 to 2.5 % from day to day; title from memory",
  },
  note: "The same runner differs by 1 to 2.5 % from day to day at the same speed, so one run before and one after prove nothing.",
});

export const decisionsEvidence: readonly Evidence<unknown>[] = [
  painReferLimit,
  painEaseLimit,
  painRecheckHours,
  boneWarningSigns,
  longRunLimitShare,
  longRunLookbackDays,
  inBandMoveOnShare,
  inBandEaseShare,
  carriedOverShare,
  runsPerSideMin,
];
