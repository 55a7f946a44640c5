// A part of a template in a few words.
import type { Practice, TemplateInput } from "../../api/index.ts";
import { showDistance, showDuration } from "../../engine/quantities/display.ts";
import { practiceWords as words } from "../strings/hand-outs.ts";

type Step = TemplateInput["steps"][number];
type Block = Extract<Step, { step: "block" }>;

/** "warm up 10 min", "6 × (beat on 400 m, beat off 200 m)", "main part". */
export function sayStep(step: Step, drills: Practice["drills"]): string {
  switch (step.step) {
    case "main":
      return "main part";
    case "block":
      return sayBlock(step, drills);
    case "repeat":
      return `${step.times} × (${step.blocks.map((block) => sayBlock(block, drills)).join(", ")})`;
  }
}

function sayBlock(block: Block, drills: Practice["drills"]): string {
  const drill = drills.find((one) => one.id === block.drillId);
  const what =
    block.kind === "drill" && drill !== undefined ? drill.name.toLowerCase() : (words.kinds[block.kind] ?? "");
  const length = block.distanceM === undefined ? showDuration(block.durationS ?? 0) : showDistance(block.distanceM);
  return `${what} ${length}`;
}
