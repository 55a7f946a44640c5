// Constants behind rules T1–T9: whether to change a runner's step rate, how far, and what is not known.
import { evidence, type Evidence, type Source } from "./evidence.ts";

const willy2016: Source = {
  authors: "Willy, Buchenic, Rogacki, Ackerman, Schmidt & Willson",
  year: 2016,
  title:
    "In-field gait retraining and mobile monitoring to address running biomechanics associated with tibial stress fracture",
  titleFrom: "memory",
  where: "Scand J Med Sci Sports 26(2):197-205, abstract",
};

export const commonBandLowSpm = evidence({
  id: "common-band-low",
  value: 170,
  unit: "spm",
  kind: "common-practice",
  note: "Many coaches like 85 to 90 contacts of one foot a minute at easy speed. It is a habit of the trade, context and never a command.",
});

export const commonBandHighSpm = evidence({
  id: "common-band-high",
  value: 180,
  unit: "spm",
  kind: "common-practice",
  note: "The upper edge of the band that many coaches like, 90 contacts of one foot a minute.",
});

export const usualRiseShare = evidence({
  id: "usual-rise",
  value: 0.075,
  unit: "share of baseline",
  range: [0.05, 0.1],
  kind: "published",
  source: willy2016,
  note: "Trials that trained runners aimed 5 to 10 % above each runner's own step rate; 7.5 % is the middle dose, and runners got about 8.6 %.",
});

export const greatestRiseShare = evidence({
  id: "greatest-rise",
  value: 0.1,
  unit: "share of baseline",
  kind: "published",
  source: {
    authors: "Heiderscheit, Chumanov, Michalski, Wille & Ryan",
    year: 2011,
    title: "Effects of Step Rate Manipulation on Joint Mechanics during Running",
    where: "Med Sci Sports Exerc 43(2):296-302, abstract and Table 3",
  },
  note: "The highest dose that studies used, 10 % above the runner's own step rate. More than that was not tried.",
});

export const carefulRiseShare = evidence({
  id: "careful-rise",
  value: 0.05,
  unit: "share of baseline",
  kind: "ours",
  note: "Our own caution after calf, Achilles or bone trouble: half the highest dose that trials used.",
});

export const carefulStageShare = evidence({
  id: "careful-stage",
  value: 0.5,
  unit: "share of the usual stage",
  kind: "ours",
  note: "Our own caution after calf, Achilles or bone trouble: stages of half the usual size.",
});

export const calfAchillesShift = evidence({
  id: "calf-achilles-shift",
  value: "more calf and Achilles trouble among the retrained",
  unit: "finding",
  kind: "second-hand",
  source: {
    authors: "Chan, Zhang, Au, An, Shum, Ng & Cheung",
    year: 2018,
    title: "Gait retraining for the reduction of injury occurrence in novice distance runners",
    titleFrom: "memory",
    where: "Am J Sports Med 46(2):388-395; the calf and Achilles share was read second hand",
  },
  note: "Runners who learned a softer landing had fewer injuries over a year but somewhat more calf and Achilles trouble, so these are asked about.",
});

export const painStartLimit = evidence({
  id: "pain-start-limit",
  value: 2,
  unit: "0-10 rating",
  kind: "derived",
  source: {
    authors: "Vincent & Vincent",
    year: 2017,
    title: "When Is It Safe to Run? Applying Four Pain Rules",
    where: "Curr Sports Med Rep 16(3):122; mild pain is below 3 of 10",
  },
  note: "Mild pain, below 3 of 10, is where careful running may go on. Above 2 no change of step rate is started.",
});

export const runnerToRunnerSpreadSpm = evidence({
  id: "runner-to-runner-spread",
  value: 8.3,
  unit: "spm",
  kind: "published",
  source: {
    authors: "Luedke & Rauh",
    year: 2021,
    title: "Factors associated with self-selected step rates between collegiate and high school cross country runners",
    titleFrom: "memory",
    where: "Front Sports Act Living 2:628348, abstract: high-school runners 171.3 (SD 8.3) spm",
  },
  note: "Healthy runners differ from one another with a standard deviation of about 8 spm at the speed each chooses.",
});

export const heightReference = evidence({
  id: "height-reference",
  value: { stepRateSpm: 170, speedMps: 3, heightM: 1.75 },
  unit: "spm, m/s, m",
  kind: "derived",
  source: {
    authors: "Burns, Zendler & Zernicke; de Ruiter et al.; Cavanagh & Kram",
    year: 2019,
    title: "Step rate against height in three studies, and the pendulum law f ∝ L^-0.5",
    titleFrom: "description",
    where: "abstracts: −123 spm per metre in one, r −0.49 to −0.66 in another, |r| ≤ 0.36 in the third",
  },
  note: "Taller runners step a little less often, but height says so little about one runner that it only marks a value worth measuring again.",
});

export const heightFlagSpreads = evidence({
  id: "height-flag-spreads",
  value: 3,
  unit: "standard deviations",
  kind: "ours",
  note: "A step rate three runner-to-runner spreads away from what height and speed suggest is worth a second measurement.",
});

export const legFlagShares = evidence({
  id: "leg-flag",
  value: { low: 0.46, high: 0.6 },
  unit: "share of height",
  kind: "ours",
  note: "A leg shorter than 46 % or longer than 60 % of height is probably a typing slip.",
});

export const claimsCeiling = evidence({
  id: "claims-ceiling",
  value: "not enough evidence on injury or performance",
  unit: "finding",
  kind: "published",
  source: {
    authors: "Anderson, Martin, Barton & Bonanno",
    year: 2022,
    title:
      "What is the effect of changing running step rate on injury, performance and biomechanics? A systematic review and meta-analysis",
    titleFrom: "memory",
    where: "Sports Med Open 8, abstract (37 studies)",
  },
  note: "A review of 37 studies found not enough evidence that a higher step rate prevents injury or makes runners faster. It does change loads at knee and hip.",
});

export const effortRiseSmd = evidence({
  id: "effort-rise",
  value: 0.69,
  unit: "standardised mean difference",
  kind: "published",
  source: {
    authors: "Anderson, Martin, Barton & Bonanno",
    year: 2022,
    title:
      "What is the effect of changing running step rate on injury, performance and biomechanics? A systematic review and meta-analysis",
    titleFrom: "memory",
    where: "Sports Med Open 8, abstract: effort 0.69, awkwardness 0.72",
  },
  note: "Quicker steps feel harder and more awkward at first.",
});

export const targetsEvidence: readonly Evidence<unknown>[] = [
  commonBandLowSpm,
  commonBandHighSpm,
  usualRiseShare,
  greatestRiseShare,
  carefulRiseShare,
  carefulStageShare,
  calfAchillesShift,
  painStartLimit,
  runnerToRunnerSpreadSpm,
  heightReference,
  heightFlagSpreads,
  legFlagShares,
  claimsCeiling,
  effortRiseSmd,
];
