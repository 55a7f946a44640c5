// Constants of the matched-speed comparison and of everything that is judged from repeated runs.
import { evidence, type Evidence } from "./evidence.ts";

/** Step rate grows with speed as C = C0 (v/v0)^beta. */
export const SPEED_EXPONENT = evidence({
  id: "speed-exponent",
  value: { mean: 0.15, sd: 0.035 },
  unit: "1",
  range: [0.12, 0.2],
  kind: "derived",
  source: {
    authors: "Craib et al.; van Oeveren et al.; de Ruiter et al.; Burns, Zendler & Zernicke; Cavanagh & Kram",
    year: 2020,
    title: "Five studies of step rate over running speed, put on one scale",
    titleFrom: "description",
    where:
      "abstracts: 0.16 (1994, Int J Sports Med 15:80), 0.20 (2017, PLoS ONE 12:e0184273), 0.13 (2020, Eur J Sport Sci 20:182), about 0.12 (2019, J Appl Physiol), 0.15 (1989, Med Sci Sports Exerc 21:467)",
  },
  note: "Step rate rises only weakly with speed: about 1.5 % for 10 % more speed. The spread between runners (SD 0.035) is our own, so that 95 % lie between 0.08 and 0.22.",
});

/** Spread of one runner's step rate from day to day at the same speed, as a share: a log-normal prior. */
export const DAY_TO_DAY_SD = evidence({
  id: "day-to-day-sd",
  value: { median: 0.015, logSd: 0.8 },
  unit: "share of step rate",
  range: [0.01, 0.024],
  kind: "derived",
  source: {
    authors: "Craib et al.",
    year: 1994,
    title: "Daily variation in step length of trained male runners",
    titleFrom: "memory",
    where: "Int J Sports Med 15:80-83, abstract: coefficient of variation 2.22 to 2.50 % at fixed speed over 20 days",
  },
  note: "The same runner at the same speed differs by 1 to 2.4 % from day to day. The lower end is from memory; the width of the prior (95 % between 0.3 and 7 %) is our own, and gives way quickly to the runner's own runs.",
});

/** How much runners of one group differ in their day-to-day spread; the rest of the published width is between groups. */
export const RUNNERS_DIFFER_LOG_SD = evidence({
  id: "runners-differ-log-sd",
  value: 0.5,
  unit: "SD of the logarithm",
  kind: "ours",
  note: "Some runners are steadier from day to day than others: most lie within a factor of 2.7 of their group's middle. A careful guess of ours.",
});

/** Step rate per unit of uphill slope: +0.5 % for each +1 %. */
export const UPHILL_EFFECT = evidence({
  id: "uphill-effect",
  value: { mean: 0.5, sd: 0.25 },
  unit: "log step rate per unit of slope",
  range: [0, 1],
  kind: "derived",
  source: {
    authors: "Padulo et al.",
    year: 2013,
    title: "Step frequency and step length of runners from 0 to 7 % slope",
    titleFrom: "description",
    doi: "10.1371/journal.pone.0069006",
    where: "abstract: step frequency +4 % at +7 %, so 0.57 % for each 1 %",
  },
  note: "Uphill the steps come a little quicker at the same effort; downhill hardly differs and is not corrected. The spread is our own.",
});

/** Only windows up to this slope decide, as long as enough of them exist. */
export const LEVEL_SLOPE_LIMIT = evidence({
  id: "level-slope-limit",
  value: 0.02,
  unit: "rise over run",
  range: [0.01, 0.02],
  kind: "ours",
  note: "Steeper minutes are left out when the run has enough level ones; otherwise they are corrected and the interval widens.",
});

/** The first part of a run that does not count. */
export const SETTLE_TIME_S = evidence({
  id: "settle-time",
  value: 180,
  unit: "s",
  range: [180, 300],
  kind: "derived",
  source: {
    authors: "preprint 202601.2214",
    year: 2026,
    title: "Thirty minutes of running at 13 km/h: how long until the means settle",
    titleFrom: "description",
    where: "abstract: one-minute means sit near the 30-minute mean only after several minutes",
  },
  note: "The first three to five minutes of a run settle and are not used.",
});

export const SMALLEST_WORTHWHILE_CHANGE_SPM = evidence({
  id: "smallest-worthwhile-change",
  value: 2,
  unit: "spm",
  range: [1.7, 2],
  kind: "ours",
  note: "Smaller changes are not called a change: 0.2 of the spread between runners (8.3 spm) is 1.7 spm, rounded up.",
});

export const SPEED_UP_LIMIT_PERCENT = evidence({
  id: "speed-up-limit",
  value: 3,
  unit: "%",
  kind: "ours",
  note: "Above +3 % the runner is said to run faster.",
});

/** A fall of the adjusted step rate through a run that deserves a word. */
export const LATE_RUN_DROP_LIMIT = evidence({
  id: "late-run-drop-limit",
  value: -0.02,
  unit: "share of step rate",
  range: [-0.02, -0.014],
  kind: "derived",
  source: {
    authors: "Hunter & Smith",
    year: 2007,
    title:
      "Preferred and optimal stride frequency, stiffness and economy: changes with fatigue during a 1-h high-intensity run",
    titleFrom: "memory",
    where: "Eur J Appl Physiol 100:653-661, abstract: 174.0 to 171.6 spm, -1.4 %, in a hard hour",
  },
  note: "A fall of 1 to 1.5 % in a hard hour is normal; 2 % or more is worth a look.",
});

/** Share of the between-runner spread that counts as a worthwhile change. */
export const WORTHWHILE_SHARE = evidence({
  id: "worthwhile-share",
  value: 0.2,
  unit: "1",
  kind: "from-memory",
  source: {
    authors: "Hopkins",
    year: 2000,
    title: "Measures of reliability in sports medicine and science",
    where: "Sports Med 30(1):1-15",
  },
  note: "The smallest worthwhile change is 0.2 of the spread between people.",
});

/** Share of in-band steps: target plus or minus this. */
export const TARGET_BAND_SHARE = evidence({
  id: "target-band",
  value: 0.015,
  unit: "share of target",
  kind: "ours",
  note: "A step rate within 1.5 % of the target counts as on target.",
});

/** True spread of the change between runners of one programme, as a share: a log-normal prior. */
export const RESPONSE_SPREAD = evidence({
  id: "response-spread",
  value: { median: 0.02, logSd: 0.8 },
  unit: "share of step rate",
  kind: "ours",
  note: "Runners answer differently to the same programme; about 2 % is our guess, and gives way to the group's own spread.",
});

/** Heart rate over speed at a steady effort, only to compare like with like. */
export const HEART_RATE_EXPONENT = evidence({
  id: "heart-rate-exponent",
  value: { mean: 0.6, sd: 0.25 },
  unit: "1",
  kind: "ours",
  note: "Heart rate rises by about 6 % for 10 % more speed in easy running; a wide guess of ours that the runner's own minutes replace.",
});

export const HEART_RATE_DAY_TO_DAY_SD = evidence({
  id: "heart-rate-day-to-day-sd",
  value: { median: 0.025, logSd: 0.7 },
  unit: "share of heart rate",
  kind: "ours",
  note: "Heart rate at the same speed differs by some beats from day to day (heat, sleep, coffee); a wide guess of ours.",
});

/** Looking after every run: which change must not be missed, and both errors. */
export const SEQUENTIAL = evidence({
  id: "sequential-looks",
  value: { wantedChangePercent: 3, falseAlarm: 0.05, miss: 0.1 },
  unit: "%, shares",
  kind: "ours",
  note: "Looked at after every run, nothing is called a change in at most about 1 of 20 runners, and a change of 3 % is missed in about 1 of 10.",
});

export const changeEvidence: readonly Evidence<unknown>[] = [
  SPEED_EXPONENT,
  DAY_TO_DAY_SD,
  RUNNERS_DIFFER_LOG_SD,
  UPHILL_EFFECT,
  LEVEL_SLOPE_LIMIT,
  SETTLE_TIME_S,
  SMALLEST_WORTHWHILE_CHANGE_SPM,
  SPEED_UP_LIMIT_PERCENT,
  LATE_RUN_DROP_LIMIT,
  WORTHWHILE_SHARE,
  TARGET_BAND_SHARE,
  RESPONSE_SPREAD,
  HEART_RATE_EXPONENT,
  HEART_RATE_DAY_TO_DAY_SD,
  SEQUENTIAL,
];
