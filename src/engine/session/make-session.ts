// From a template and a runner's numbers to a session, block by block.
import * as known from "../evidence/sessions.ts";
import type { DisplayUnits } from "../quantities/display.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import type { Session, SessionBlock } from "./session.ts";
import { describeStepLength } from "./step-length.ts";
import { starterTemplates } from "./starter-templates.ts";
import type { SessionTemplate, TemplateBlock } from "./template.ts";

export interface SessionValues {
  readonly id: string;
  readonly title?: string;
  /** Both feet. */
  readonly targetSpm: number;
  /** Where a rising beat starts: the stage before, or the baseline. The target when absent: no rise. */
  readonly previousSpm?: number;
  readonly baselineSpm?: number;
  /** The speed to hold. Without it a distance block cannot become a beat track, and no step length is told. */
  readonly speedMps?: number;
  /** Minutes of the main part, with and without the beat. */
  readonly mainMinutes: number;
  /** Share of the main part with the beat on, 0–1. */
  readonly cueShare: number;
  readonly firstOfStage?: boolean;
  /** For lengths named in notes; metric when absent. */
  readonly units?: DisplayUnits;
}

/**
 * A session for one runner. The main part is `mainMinutes` long to the second, `cueShare` of it with the beat, beat on
 * first. Throws on numbers that no session can have; a template from a person goes through checkTemplate first.
 */
export function makeSession(values: SessionValues, template: SessionTemplate = starterTemplates.beatRun): Session {
  check(values);
  const blocks: SessionBlock[] = [];
  for (const step of template.steps) {
    if (step.step === "main") blocks.push(...mainBlocks(values));
    else if (step.step === "repeat")
      for (let time = 0; time < step.times; time += 1)
        blocks.push(...step.blocks.flatMap((block) => fill(block, values)));
    else blocks.push(...fill(step, values));
  }
  return { id: values.id, title: values.title ?? template.title, blocks };
}

function check(values: SessionValues): void {
  const { targetSpm, mainMinutes, cueShare, speedMps } = values;
  if (!(targetSpm > 0)) throw new RangeError(`makeSession: targetSpm must be above 0, got ${targetSpm}`);
  if (!(mainMinutes > 0 && mainMinutes <= 240))
    throw new RangeError(`makeSession: mainMinutes must be in (0, 240], got ${mainMinutes}`);
  if (!(cueShare >= 0 && cueShare <= 1)) throw new RangeError(`makeSession: cueShare must be 0 to 1, got ${cueShare}`);
  if (speedMps !== undefined && !(speedMps > 0))
    throw new RangeError(`makeSession: speedMps must be above 0, got ${speedMps}`);
}

function fill(block: TemplateBlock, values: SessionValues): SessionBlock[] {
  if (block.firstOfStageOnly === true && values.firstOfStage !== true) return [];
  const travels = block.kind !== "standing-drill";
  return [
    {
      kind: block.kind,
      ...(block.durationS === undefined ? {} : { durationS: block.durationS }),
      ...(block.distanceM === undefined ? {} : { distanceM: block.distanceM }),
      ...beatOf(block.beat, values),
      ...(travels && values.speedMps !== undefined ? { speedMps: values.speedMps } : {}),
      ...(block.drillId === undefined ? {} : { drillId: block.drillId }),
      ...(block.note === undefined ? {} : { note: block.note }),
    },
  ];
}

function beatOf(
  beat: TemplateBlock["beat"],
  values: SessionValues,
): Pick<SessionBlock, "stepRateSpm" | "endStepRateSpm"> {
  if (beat === "none") return {};
  const previous = values.previousSpm ?? values.targetSpm;
  return beat === "target" || previous === values.targetSpm
    ? { stepRateSpm: values.targetSpm }
    : { stepRateSpm: previous, endStepRateSpm: values.targetSpm };
}

/** Beat on and beat off by turns: about six minutes a turn, a beat never under a minute, whole seconds, exact in sum. */
export function mainBlocks(values: SessionValues): SessionBlock[] {
  const totalS = Math.round(values.mainMinutes * SECONDS_PER_MINUTE);
  const onS = Math.round(totalS * values.cueShare);
  const speed = values.speedMps === undefined ? {} : { speedMps: values.speedMps };
  const on = (durationS: number): SessionBlock => ({
    kind: "cue-on",
    durationS,
    stepRateSpm: values.targetSpm,
    ...speed,
    note: `Every step on the beat, same speed. ${describeStepLength(values, values.units)}`.trim(),
  });
  const off = (durationS: number): SessionBlock => ({
    kind: "cue-off",
    durationS,
    ...speed,
    note: "Beat off. Keep the same quick steps and the same speed.",
  });
  if (onS === totalS) return [on(totalS)];
  if (onS === 0) return [off(totalS)];
  const turns = Math.max(
    1,
    Math.min(Math.round(totalS / known.beatTurnS.value), Math.floor(onS / known.shortestCueS.value)),
  );
  const blocks: SessionBlock[] = [];
  for (let turn = 0; turn < turns; turn += 1) {
    blocks.push(on(evenPart(onS, turns, turn)), off(evenPart(totalS - onS, turns, turn)));
  }
  return blocks.filter((block) => (block.durationS ?? 0) > 0);
}

/** Part of a whole in whole seconds; the parts add up to the whole. */
function evenPart(totalS: number, parts: number, index: number): number {
  return Math.round((totalS * (index + 1)) / parts) - Math.round((totalS * index) / parts);
}
