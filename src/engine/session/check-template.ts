// Is a coach's template a session at all? Every fault is told.
import { type Problem, type Result, succeed } from "../quantities/problem.ts";
import type { Drill } from "./drill.ts";
import type { SessionTemplate, TemplateBlock } from "./template.ts";

const greatestBlockS = 4 * 3600;
const greatestBlockM = 50_000;
const greatestRepeats = 40;
const greatestSteps = 60;

/** Checks a coach's template against the drills at hand; every fault is told, with the step that has it (row, from 1). */
export function checkTemplate(template: SessionTemplate, drills: readonly Drill[]): Result<SessionTemplate> {
  const problems: Problem[] = [];
  const tell = (row: number, field: string, code: string, got: string, expected: string, remedy: string): void => {
    problems.push({ code, where: { file: template.title, row, field }, got, expected, remedy });
  };
  if (template.title.trim() === "")
    tell(0, "title", "template-untitled", "an empty title", "a title", "Give the session a name.");
  if (template.steps.length === 0 || template.steps.length > greatestSteps)
    tell(
      0,
      "steps",
      "template-length",
      `${template.steps.length} steps`,
      `1 to ${greatestSteps} steps`,
      "Add a block, or join some.",
    );
  const mains = template.steps.filter((step) => step.step === "main").length;
  if (mains > 1)
    tell(
      0,
      "steps",
      "template-two-mains",
      `${mains} main parts`,
      "at most one",
      "Keep one main part; it holds all the minutes.",
    );
  for (const [index, step] of template.steps.entries()) {
    const row = index + 1;
    if (step.step === "main") continue;
    if (step.step === "repeat" && !(Number.isInteger(step.times) && step.times >= 1 && step.times <= greatestRepeats))
      tell(
        row,
        "times",
        "template-repeats",
        String(step.times),
        `a whole number, 1 to ${greatestRepeats}`,
        "Change the number of repeats.",
      );
    if (step.step === "repeat" && step.blocks.length === 0)
      tell(
        row,
        "blocks",
        "template-empty-repeat",
        "no blocks",
        "at least one block",
        "Put a block into the repeat or remove it.",
      );
    for (const block of step.step === "repeat" ? step.blocks : [step]) checkBlock(block, row, drills, tell);
  }
  return problems.length > 0 ? { ok: false, problems } : succeed(template);
}

function checkBlock(
  block: TemplateBlock,
  row: number,
  drills: readonly Drill[],
  tell: (row: number, field: string, code: string, got: string, expected: string, remedy: string) => void,
): void {
  const { durationS, distanceM, kind, beat, drillId } = block;
  if ((durationS === undefined) === (distanceM === undefined))
    tell(
      row,
      "durationS",
      "block-length-unclear",
      durationS === undefined ? "neither time nor distance" : "both a time and a distance",
      "a time or a distance",
      "Give the block one of the two.",
    );
  if (durationS !== undefined && !(durationS > 0 && durationS <= greatestBlockS))
    tell(
      row,
      "durationS",
      "block-duration",
      `${durationS} s`,
      `above 0, up to ${greatestBlockS} s`,
      "Change the time.",
    );
  if (distanceM !== undefined && !(distanceM > 0 && distanceM <= greatestBlockM))
    tell(
      row,
      "distanceM",
      "block-distance",
      `${distanceM} m`,
      `above 0, up to ${greatestBlockM} m`,
      "Change the distance.",
    );
  if (distanceM !== undefined && kind === "standing-drill")
    tell(
      row,
      "distanceM",
      "standing-drill-distance",
      `${distanceM} m`,
      "a time",
      "A drill on the spot has no distance: give it a time.",
    );
  if (kind === "cue-on" && beat === "none")
    tell(row, "beat", "cue-on-silent", "no beat", "a beat", "Choose a beat, or make it a cue-off block.");
  if (kind === "cue-off" && beat !== "none")
    tell(row, "beat", "cue-off-sounds", `beat "${beat}"`, "no beat", "Silence it, or make it a cue-on block.");
  if (drillId !== undefined && !drills.some((drill) => drill.id === drillId))
    tell(
      row,
      "drillId",
      "unknown-drill",
      drillId,
      "a drill of the list",
      "Choose a drill that exists, or write it first.",
    );
  if ((kind === "drill") !== (drillId !== undefined) && kind !== "standing-drill")
    tell(
      row,
      "drillId",
      "drill-missing",
      drillId ?? "no drill",
      kind === "drill" ? "a drill" : "no drill outside a drill block",
      "Choose a drill for a drill block, and none for others.",
    );
}
