// The invented group: nobody here exists. Each runner shows one situation that a coach meets.
import type { RedFlag } from "../../engine/target/red-flags.ts";

export interface DemoRunner {
  readonly name: string;
  readonly situation: string;
  /** Both feet, at speedMps. */
  readonly stepRateSpm: number;
  readonly speedMps: number;
  readonly heightM?: number;
  readonly history?: readonly ("bone" | "achilles" | "calf")[];
  readonly remote?: boolean;
  /** Share of the asked rise that the runner makes while the beat plays; 1 is all of it. */
  readonly follows: number;
  /** From that week on (0 is the first) the beat is hardly followed any more. */
  readonly stopsFollowingInWeek?: number;
  /** Speed in the programme against before. */
  readonly speedFactor?: number;
  /** Fall of the step rate towards the end of a run, as a share. */
  readonly lateDropShare?: number;
  /** Share of the rise that stays when the beat stops; set for runners whose runs end without it. */
  readonly keepsWithoutBeat?: number;
  readonly silentThisWeek?: boolean;
  /** Why the coach moved on against the rules, each week. */
  readonly movedOnBecause?: string;
  readonly pain?: {
    readonly score: number;
    readonly place: string;
    readonly signs?: readonly RedFlag[];
    readonly note: string;
  };
  /** Counted once only, nothing recorded. */
  readonly barelyMeasured?: boolean;
  /** Measured, but the coach has not looked at the proposal yet. */
  readonly undecided?: boolean;
  readonly formSigns?: readonly ("posture" | "shoulders" | "arm-swing" | "over-stride" | "loud-landing")[];
}

export const demoPeople: readonly DemoRunner[] = [
  {
    name: "Ilse Varga",
    situation: "changed: more steps at the same speed, and keeps most of it",
    stepRateSpm: 161,
    speedMps: 2.78,
    heightM: 1.71,
    follows: 1,
    keepsWithoutBeat: 0.85,
    formSigns: ["over-stride", "loud-landing"],
  },
  {
    name: "Tomas Redfern",
    situation: "only ran faster",
    stepRateSpm: 164,
    speedMps: 2.7,
    heightM: 1.83,
    follows: 0.1,
    speedFactor: 1.09,
  },
  {
    name: "Priya Lindqvist",
    situation: "changed and runs faster",
    stepRateSpm: 158,
    speedMps: 2.6,
    heightM: 1.66,
    movedOnBecause: "She is meant to get faster; the plan goes on.",
    follows: 1,
    speedFactor: 1.06,
  },
  {
    name: "Noor Castellan",
    situation: "calf pain this week",
    stepRateSpm: 162,
    speedMps: 2.85,
    heightM: 1.74,
    follows: 0.95,
    pain: { score: 4, place: "calf", note: "Tight after Tuesday, gone by morning." },
  },
  {
    name: "Bram Whitlock",
    situation: "pain on one spot of bone: stop and refer",
    stepRateSpm: 160,
    speedMps: 2.9,
    heightM: 1.79,
    history: ["bone"],
    follows: 0.9,
    pain: { score: 6, place: "shin", signs: ["bone-spot", "night-pain"], note: "Hurts when pressed, woke me up." },
  },
  {
    name: "Sunniva Hale",
    situation: "nothing sent this week",
    stepRateSpm: 163,
    speedMps: 2.65,
    follows: 0.95,
    silentThisWeek: true,
  },
  {
    name: "Desta Moreau",
    situation: "step rate falls late in the run",
    stepRateSpm: 159,
    speedMps: 3.05,
    heightM: 1.69,
    follows: 1,
    lateDropShare: 0.045,
    formSigns: ["posture"],
  },
  {
    name: "Oskar Pell",
    situation: "fine as he is: leave alone",
    stepRateSpm: 174,
    speedMps: 2.9,
    heightM: 1.77,
    follows: 0,
  },
  {
    name: "Mirela Quist",
    situation: "remote: sends everything from her phone",
    stepRateSpm: 162,
    speedMps: 2.75,
    remote: true,
    follows: 1,
    keepsWithoutBeat: 0.7,
  },
  {
    name: "Jonah Tarrant",
    situation: "lost the beat when it got quicker",
    stepRateSpm: 157,
    speedMps: 2.55,
    heightM: 1.88,
    follows: 1,
    stopsFollowingInWeek: 4,
  },
  {
    name: "Alba Fenner",
    situation: "Achilles trouble before: smaller and slower",
    stepRateSpm: 160,
    speedMps: 2.7,
    heightM: 1.63,
    history: ["achilles"],
    follows: 1,
  },
  {
    name: "Kofi Strand",
    situation: "measured, proposal waits for the coach",
    stepRateSpm: 163,
    speedMps: 3.1,
    heightM: 1.81,
    follows: 0,
    undecided: true,
  },
  {
    name: "Runa Ashdown",
    situation: "one short count only: measure first",
    stepRateSpm: 168,
    speedMps: 2.6,
    follows: 0,
    barelyMeasured: true,
  },
];
