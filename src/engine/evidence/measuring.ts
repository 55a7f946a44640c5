// Counting, timing and the runner's own variation: what a measure of step rate is worth.
import { evidence, type Evidence } from "./evidence.ts";

export const baselineMaxStandardErrorSpm = evidence({
  id: "baseline-max-standard-error",
  value: 2,
  unit: "spm",
  kind: "ours",
  note: "A baseline must be known to 2 spm, the smallest change worth having; otherwise measure again (rule M1).",
});

export const stopwatchTimingErrorS = evidence({
  id: "stopwatch-timing-error",
  value: 0.2,
  unit: "s",
  kind: "ours",
  note: "Start and stop of a hand-held stopwatch together are taken as good to 0.2 s.",
});

export const withinRunCv = evidence({
  id: "within-run-step-variation",
  value: 0.02,
  unit: "ratio",
  range: [0.01, 0.025],
  kind: "derived",
  source: {
    authors: "Preprint, authors not noted",
    year: 2026,
    title: "Preprint 202601.2214: thirty minutes of treadmill running at 13 km/h",
    titleFrom: "description",
    doi: "10.20944/preprints202601.2214.v1",
    where: "abstract: within-runner variation of spatiotemporal measures under 2.5 %, long-range correlated",
  },
  note: "One runner's steps vary by about 2 % within a run; the abstract says under 2.5 %.",
});

export const longMemoryExponent = evidence({
  id: "long-memory-exponent",
  value: 0.8,
  unit: "1",
  range: [0.5, 0.9],
  kind: "derived",
  source: {
    authors: "Preprint, authors not noted",
    year: 2026,
    title: "Preprint 202601.2214: thirty minutes of treadmill running at 13 km/h",
    titleFrom: "description",
    doi: "10.20944/preprints202601.2214.v1",
    where: "abstract: persistent long-range correlation of stride time; the value 0.8 is our reading",
  },
  note: "Slow wandering makes a mean shrink as N^(H−1) with H near 0.8, not as one over root N.",
});

export const settlingTimeS = evidence({
  id: "settling-time",
  value: 180,
  unit: "s",
  range: [180, 300],
  kind: "derived",
  source: {
    authors: "Preprint, authors not noted",
    year: 2026,
    title: "Preprint 202601.2214: thirty minutes of treadmill running at 13 km/h",
    titleFrom: "description",
    doi: "10.20944/preprints202601.2214.v1",
    where: "abstract: minutes pass until one-minute means sit near the mean of the run",
  },
  note: "The first three minutes of a run are not yet the runner's settled step rate.",
});

export const steadyMinuteCount = evidence({
  id: "steady-minutes",
  value: 3,
  unit: "min",
  kind: "derived",
  source: {
    authors: "García-Pinillos et al.",
    year: 2018,
    title: "Isokinetics and Exercise Science, article IES-181197",
    titleFrom: "description",
    doi: "10.3233/IES-181197",
    where: "abstract: means agree over windows of 10 to 180 s; variability needs 180 s",
  },
  note: "Three steady minutes give a mean and show whether it was steady at all.",
});

export const steadySpeedShare = evidence({
  id: "steady-speed-band",
  value: 0.1,
  unit: "ratio",
  kind: "ours",
  note: "A stretch is steady while its speed stays within 10 % of the run's usual; step rate moves about 1.5 % over that.",
});

export const levelSlope = evidence({
  id: "level-slope",
  value: 0.02,
  unit: "1",
  range: [0.01, 0.02],
  kind: "derived",
  source: {
    authors: "Padulo et al.",
    year: 2013,
    title: "PLoS ONE 8:e69006",
    titleFrom: "description",
    doi: "10.1371/journal.pone.0069006",
    where: "abstract: step frequency +4 % from level to 7 %, so about +0.6 % per 1 % of slope",
  },
  note: "Ground within 2 % counts as level: it moves step rate by about 1 % at most.",
});

export const disagreementLimit = evidence({
  id: "count-disagreement-limit",
  value: 1.96,
  unit: "standard errors",
  kind: "ours",
  note: "Two counts further apart than 1.96 times their joint error ask for a third (rule M2).",
});

export const contactRateLimits = evidence({
  id: "possible-contact-rate",
  value: { low: 20, high: 300 },
  unit: "contacts/min",
  kind: "ours",
  note: "Fewer than 20 or more than 300 contacts a minute is a slip of the pen, whichever feet were counted.",
});

export const measuringEvidence: readonly Evidence<unknown>[] = [
  baselineMaxStandardErrorSpm,
  stopwatchTimingErrorS,
  withinRunCv,
  longMemoryExponent,
  settlingTimeS,
  steadyMinuteCount,
  steadySpeedShare,
  levelSlope,
  disagreementLimit,
  contactRateLimits,
];
