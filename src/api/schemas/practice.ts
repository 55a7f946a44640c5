// Session templates and drills: those that come along, and the coach's own.
import { type Static, Type } from "typebox";
import { Id, Name } from "./common.ts";

const blockKinds = ["warm-up", "standing-drill", "drill", "cue-on", "cue-off", "strides", "cool-down"] as const;

export const TemplateBlock = Type.Object({
  step: Type.Literal("block"),
  kind: Type.Enum(blockKinds),
  durationS: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 36_000 })),
  distanceM: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 200_000 })),
  beat: Type.Enum(["target", "rise", "none"]),
  drillId: Type.Optional(Type.String({ maxLength: 60 })),
  note: Type.Optional(Type.String({ maxLength: 400 })),
  firstOfStageOnly: Type.Optional(Type.Boolean({ description: "Only in the first session of a stage (P5)." })),
});

export const TemplateStep = Type.Union([
  TemplateBlock,
  Type.Object({ step: Type.Literal("main") }),
  Type.Object({
    step: Type.Literal("repeat"),
    times: Type.Integer({ minimum: 1, maximum: 40 }),
    blocks: Type.Array(TemplateBlock, { maxItems: 20 }),
  }),
]);

export const TemplateInput = Type.Object({ title: Name, steps: Type.Array(TemplateStep, { maxItems: 60 }) });
export type TemplateInput = Static<typeof TemplateInput>;

export const Template = Type.Object({
  id: Type.String(),
  title: Type.String(),
  steps: Type.Array(TemplateStep),
  own: Type.Boolean({ description: "The coach's; the others come along and cannot be changed, only copied." }),
});
export type Template = Static<typeof Template>;

const Line = Type.String({ maxLength: 600 });
export const DrillInput = Type.Object({
  name: Name,
  howTo: Type.String({ maxLength: 2000 }),
  minutes: Type.Number({ minimum: 0, maximum: 60 }),
  whatToFeel: Line,
  cautions: Type.Array(Line, { maxItems: 10 }),
  standing: Type.Boolean({ description: "Done on the spot." }),
});
export type DrillInput = Static<typeof DrillInput>;

export const Drill = Type.Object({
  id: Type.String(),
  name: Type.String(),
  howTo: Type.String(),
  minutes: Type.Number(),
  whatToFeel: Type.String(),
  cautions: Type.Array(Type.String()),
  standing: Type.Boolean(),
  own: Type.Boolean(),
});
export type Drill = Static<typeof Drill>;

export const Practice = Type.Object({ templates: Type.Array(Template), drills: Type.Array(Drill) });
export type Practice = Static<typeof Practice>;

export const TemplateParams = Type.Object({ groupId: Id, templateId: Id });
export const DrillParams = Type.Object({ groupId: Id, drillId: Id });
