// A plan as stairs: the baseline is the ground they stand on.
import type { Plan } from "../../api/index.ts";
import type { Stair } from "../../ui/pictures/staircase.tsx";
import type { Format } from "../../ui/words/format.ts";
import { runnerWords } from "../strings/runner.ts";

export function stairsOf(plan: Plan, format: Format): readonly Stair[] {
  const stateOf = (index: number): Stair["state"] =>
    index < plan.currentStageIndex ? "done" : index === plan.currentStageIndex ? "here" : "ahead";
  return [
    // A measured ground, not a beat that was set: whole steps say enough.
    { stepRateSpm: Math.round(plan.baselineSpm), label: runnerWords.facts.baseline, state: "done" },
    ...plan.stages.map((stage) => ({
      stepRateSpm: stage.stepRateSpm,
      label: format.dateShort(stage.startsOn),
      state: stateOf(stage.index),
    })),
  ];
}
