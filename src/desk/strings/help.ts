// Each number in two sentences, and where it comes from.
export interface HelpEntry {
  readonly title: string;
  readonly text: string;
  readonly source: string;
}

const METHOD = "Method and tests: docs/method.";

export const helpTopics = {
  stepRate: {
    title: "Step rate",
    text: "Steps a minute of both feet together; one foot’s count is half of it. Every entry says which was counted, and a number that looks like the other one is asked about, never changed.",
    source: "Definition. Ranges for the question: rule M3, our own caution.",
  },
  baseline: {
    title: "Baseline",
    text: "The comfortable step rate, the range it lies in (95 % sure), and the speed it holds at. With a standard error of at most 2 spm it is good enough to plan from: one counted minute done twice, a stopwatch over 50 contacts of one foot, or three steady minutes of a recording.",
    source:
      "Rule M1. Counting errors follow from arithmetic; steady time from García-Pinillos et al. 2018 and Godin et al. (abstracts read).",
  },
  interval: {
    title: "95 % sure",
    text: "If the same weeks could be lived many times, the range would hold the true value about 19 times in 20. A range that holds zero means: this may be nothing.",
    source: "Standard statistics.",
  },
  matchedSpeed: {
    title: "At the same speed",
    text: "Step rate rises by itself when someone runs faster, so both sides are compared at one speed, by a line through each side’s own runs. The run is the piece of evidence, not the minute: the same runner differs by 1 to 2.4 % from day to day.",
    source:
      "Craib et al. 1994 for day-to-day spread; speed exponent 0.15 from five studies (Cavanagh & Kram 1989, Craib et al. 1994, van Oeveren et al. 2017, Burns et al. 2019, de Ruiter et al. 2020), abstracts read.",
  },
  split: {
    title: "Where the speed came from",
    text: "Speed is step rate times step length, so a change of speed is exactly the sum of two parts. The filled bar is step rate, the open bar is step length, and the mark is the speed they add up to; percent on the logarithmic scale, so that the parts add up exactly.",
    source: "An identity: ln(v2/v1) = ln(f2/f1) + ln(L2/L1).",
  },
  target: {
    title: "Target",
    text: "A step rate that rises gently with speed, drawn as a band of ±1.5 %. It starts from the runner’s own baseline and never asks for more than 10 % above it in one programme.",
    source: "Rules T3, T4, T7. Trials used 5 to 10 %: Heiderscheit et al. 2011, Willy et al. 2016.",
  },
  targetShare: {
    title: "Share of the rise reached",
    text: "The change at the same speed, divided by the whole rise that was accepted: from the baseline to where the plan ends. It is left out while the change may still be nothing.",
    source: "A quotient of two numbers on this page.",
  },
  borrowed: {
    title: "Leaning on",
    text: "How much of an answer comes from published studies and not yet from this runner’s own runs. It falls with every run; without it, two runs at odd speeds would decide everything.",
    source: "Studies as under “At the same speed”; docs/method/matched-speed.md.",
  },
  stage: {
    title: "Stage",
    text: "One rung of the plan: usually 2 spm more than the last, for at least a week and three sessions with the beat. No trial has tested small weekly steps; they are coaching caution.",
    source: "Rules P1 and P2. +2 spm both feet is common practice, no source.",
  },
  inBand: {
    title: "On the beat",
    text: "The share of the time with the beat on in which the step rate was in band: within 1.5 % of the target. Under half in two sessions running means the step was too big.",
    source: "Rules D7 and D8, our own choice.",
  },
  lateRunDrop: {
    title: "Late-run drop",
    text: "Step rate in the last third of the steady part minus the first third, along a straight trend, with speed and slope taken out; negative means that it fell. A fall of 1 to 1.5 % in a hard hour is usual; more than 2 % says the change does not hold when tired.",
    source: "Hunter & Smith 2007 (−1.4 % in a hard hour, abstract read). Rule D6.",
  },
  carryOver: {
    title: "With the beat off",
    text: "How much of the change with the beat on remains when the beat is silent, at the same speed. Cues are faded for this reason: what needs the beat is not yet the runner’s own.",
    source:
      "Davis et al. 2020 on faded feedback (abstract read); Van den Berghe et al. 2024 on reminders (abstract read).",
  },
  lanes: {
    title: "Beat lanes",
    text: "The fewest beats such that everyone’s target is within the tolerance of their lane’s beat, and nobody’s beat is above their own cap. With a fixed number of speakers: the smallest worst difference.",
    source: "Rules L1 to L3. The default tolerance of 1.5 % is our own choice.",
  },
  countError: {
    title: "How far off a count may be",
    text: "A count can miss part of a step at each end, so a short count is worth far less than a long one: 15 seconds of one foot is uncertain by about 3 spm, a minute by less than 1. Timing 50 contacts of one foot with a stopwatch is as good as a minute, and sooner done.",
    source: "Arithmetic: standard deviation of one count is 120 ÷ (seconds × √6) spm for one foot.",
  },
  quality: {
    title: "Quality",
    text: "How likely the step rate of a stretch is within 2 spm of the truth. Stretches below the line are drawn but not used, and each says why.",
    source: METHOD,
  },
  decision: {
    title: "The proposed decision",
    text: "The first rule that applies, in a fixed order with pain first; the rule’s number stands beside it. The coach confirms or overrules, and the reason is kept.",
    source: "Rules D1 to D10; pain rules after Vincent & Vincent 2017, made stricter.",
  },
  finding: {
    title: "Did it work?",
    text: "Said only when the change at the same speed is clear of zero, with at least two runs on each side. Otherwise it says how many more runs it would take.",
    source: "Rule D11.",
  },
  stepLength: {
    title: "Step length",
    text: "Metres from one contact to the next of the other foot: speed divided by step rate. It inherits every error of a satellite speed in full, so it is secondary here.",
    source: "An identity: length = 60 × speed ÷ step rate.",
  },
  whatIf: {
    title: "What if",
    text: "Same speed, another step rate: what happens to step length and steps per kilometre is arithmetic. Load per step is an estimate from published group changes, never a promise about injury.",
    source: "Willy et al. 2016 (per step −26.9 %, per kilometre −21.1 % at +8.6 %; abstract read).",
  },
  groupChange: {
    title: "The group’s change",
    text: "The average change at the same speed over all runners, with its range. Each runner’s own estimate is drawn towards it, more so where there were few runs.",
    source: "A mixed model; " + METHOD,
  },
  dutyFactor: {
    title: "Contact, flight and duty factor",
    text: "Contact is the time one foot is on the ground, flight the time neither is. Duty factor is contact divided by a whole stride; the frame rate of the clip limits all three, and the error shown is that limit.",
    source: "Definitions as in Morin et al. 2005.",
  },
} as const satisfies Record<string, HelpEntry>;

export type HelpTopic = keyof typeof helpTopics;

export const helpWords = {
  about: (title: string) => `What is this: ${title}`,
  title: "Help",
  lead: "Each number in two sentences, and where it comes from. “Abstract read” means nobody here has read the whole paper.",
  eveningTitle: "An evening, in order",
  evening: [
    "Evening: mark who is there, agree which foot everyone counts, and start the clock. It sounds a tone at the start and at the end.",
    "Type what each runner calls out. Enter moves on. A number that looks wrong is asked about at once.",
    "That night, open This week: accept the proposals, or open one and change it.",
    "Next evening, Lanes puts everyone behind four or five beats; play each from its own speaker or download it.",
    "Recordings arrive from runners’ links, or drop files on a runner’s page. Confirm the week’s decisions.",
    "At the end, Programme says who changed, by how much, and how sure that is.",
  ],
  words: "The words",
  keys: "Keyboard",
  privacyTitle: "What leaves this machine",
  privacy:
    "Nothing, unless you send a runner their link. Everything is kept in the data folder of the machine that runs Spondee; delete one person and every trace of them goes, from backups too with their next cycle.",
} as const;
