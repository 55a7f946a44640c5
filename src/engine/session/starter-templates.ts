// The sessions that come along. A coach copies and changes them.
import * as known from "../evidence/sessions.ts";
import type { SessionTemplate, TemplateBlock } from "./template.ts";

const warmUp: TemplateBlock = {
  step: "block",
  kind: "warm-up",
  durationS: known.warmUpS.value,
  beat: "none",
  note: "Easy running. Nothing is asked of the feet yet.",
};
const learnStanding: TemplateBlock = {
  step: "block",
  kind: "standing-drill",
  durationS: known.standingDrillS.value,
  beat: "target",
  drillId: "standing-beat",
  note: "On the spot, no travel: let the feet find the beat.",
};
const probe: TemplateBlock = {
  step: "block",
  kind: "cue-off",
  durationS: known.probeS.value,
  beat: "none",
  note: "Beat off. Keep the steps and the speed; these minutes are looked at.",
};
const coolDown: TemplateBlock = {
  step: "block",
  kind: "cool-down",
  durationS: known.coolDownS.value,
  beat: "none",
  note: "Easy, or walk.",
};

/** The sessions that Spondee brings along. A coach copies and changes them. */
export const starterTemplates = {
  beatRun: {
    id: "beat-run",
    title: "Run with the beat",
    steps: [warmUp, { ...learnStanding, firstOfStageOnly: true }, { step: "main" }, probe, coolDown],
  },
  drillsAndBeat: {
    id: "drills-and-beat",
    title: "Drills, then the beat",
    steps: [
      warmUp,
      learnStanding,
      { step: "block", kind: "drill", durationS: 60, beat: "target", drillId: "quick-feet" },
      { step: "block", kind: "drill", durationS: 60, beat: "none", drillId: "posture-reset" },
      { step: "main" },
      probe,
      coolDown,
    ],
  },
  trackRepeats: {
    id: "track-repeats",
    title: "Track repeats with the beat",
    steps: [
      warmUp,
      { ...learnStanding, firstOfStageOnly: true },
      {
        step: "repeat",
        times: 6,
        blocks: [
          {
            step: "block",
            kind: "cue-on",
            distanceM: 400,
            beat: "target",
            note: "Easy speed, every step on the beat.",
          },
          { step: "block", kind: "cue-off", distanceM: 200, beat: "none", note: "Beat off, same steps." },
        ],
      },
      coolDown,
    ],
  },
  stridesToEnd: {
    id: "strides-to-end",
    title: "Run with the beat, strides to end",
    steps: [
      warmUp,
      { ...learnStanding, firstOfStageOnly: true },
      { step: "main" },
      probe,
      {
        step: "repeat",
        times: 4,
        blocks: [
          { step: "block", kind: "strides", durationS: 20, beat: "none", note: "Quick and relaxed, not a sprint." },
          { step: "block", kind: "cue-off", durationS: 60, beat: "none", note: "Walk or jog." },
        ],
      },
      coolDown,
    ],
  },
  recallCheck: {
    id: "recall-check",
    title: "Recall check, beat off",
    steps: [
      warmUp,
      {
        step: "block",
        kind: "cue-off",
        durationS: known.recallCheckS.value,
        beat: "none",
        note: "Your usual easy speed, no beat. Record it, or count one foot for a minute, twice.",
      },
      coolDown,
    ],
  },
} as const satisfies Record<string, SessionTemplate>;
