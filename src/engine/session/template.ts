// A session before it has a runner: the coach's own pattern, which a plan fills with a target, minutes and a share of beat.
import type { BlockKind } from "./session.ts";

export interface TemplateBlock {
  readonly step: "block";
  readonly kind: BlockKind;
  /** Exactly one of durationS and distanceM. */
  readonly durationS?: number;
  readonly distanceM?: number;
  /** "target": at the stage's step rate; "rise": evenly from the step rate before to the target; "none": silent. */
  readonly beat: "target" | "rise" | "none";
  readonly drillId?: string;
  readonly note?: string;
  /** Only in the first session of a stage (P5). */
  readonly firstOfStageOnly?: boolean;
}

/** Where the plan's running with and without the beat goes. */
export interface TemplateMain {
  readonly step: "main";
}

export interface TemplateRepeat {
  readonly step: "repeat";
  readonly times: number;
  readonly blocks: readonly TemplateBlock[];
}

export type TemplateStep = TemplateBlock | TemplateMain | TemplateRepeat;

export interface SessionTemplate {
  readonly id: string;
  readonly title: string;
  readonly steps: readonly TemplateStep[];
}
