// Baseline and proposal: computed by the engine, accepted or changed by the coach.
import { type Static, Type } from "typebox";
import { Id, Instant, NotEnough, Note, nullable, PainScore, Surface, Uncertain, Warning } from "./common.ts";

export const Baseline = Type.Object({
  kind: Type.Literal("baseline"),
  stepRateSpm: Uncertain,
  speedMps: nullable(Type.Number()),
  surface: Surface,
  from: Type.Object({ countIds: Type.Array(Id), recordingIds: Type.Array(Id) }),
  warnings: Type.Array(Warning),
});
export const BaselineAnswer = Type.Union([Baseline, NotEnough]);
export type BaselineAnswer = Static<typeof BaselineAnswer>;

const Source = Type.Object({
  id: Type.String({ description: "Of the evidence entry." }),
  kind: Type.String(),
  authors: nullable(Type.String()),
  year: nullable(Type.Integer()),
  title: nullable(Type.String()),
  doi: nullable(Type.String()),
  note: Type.String(),
});

export const Reason = Type.Object({
  rule: Type.String({ description: "Short rule id, as T3 or D6." }),
  text: Type.String(),
  sources: Type.Array(Source),
});
export type Reason = Static<typeof Reason>;

export const PaceRow = Type.Object({
  speedMps: Type.Number(),
  stepRateSpm: Type.Number(),
  stepLengthM: Type.Number(),
});

const Advice = Type.Enum(["leave-alone", "change", "refer", "measure-first"]);

export const Proposal = Type.Object({
  kind: Type.Literal("proposal"),
  advice: Advice,
  baselineSpm: nullable(Type.Number()),
  speedMps: nullable(Type.Number()),
  targetSpm: nullable(Type.Object({ low: Type.Number(), high: Type.Number() })),
  aimSpm: nullable(Type.Number({ description: "Where this programme ends; null unless the advice is change." })),
  careful: Type.Boolean({ description: "Half-size stages because of the runner's history (T5)." }),
  capSpm: nullable(Type.Number({ description: "Never above this in this programme." })),
  stagesSpm: Type.Array(Type.Number(), { description: "Step rate of each stage, both feet, in order." }),
  paceTable: Type.Array(PaceRow),
  reasons: Type.Array(Reason),
  cautions: Type.Array(Type.String()),
});
export type Proposal = Static<typeof Proposal>;

export const ProposalAnswer = Type.Object({
  computed: Proposal,
  accepted: nullable(
    Type.Object({
      advice: Advice,
      targetSpm: nullable(Type.Number({ description: "The goal the coach accepted, at the baseline speed." })),
      changedByCoach: Type.Boolean(),
      reason: Type.String(),
      at: Instant,
      byName: Type.String(),
      proposal: Proposal,
    }),
  ),
  outOfDate: Type.Boolean({ description: "New measurements would propose something else than was accepted." }),
});
export type ProposalAnswer = Static<typeof ProposalAnswer>;

/** Accept as computed (nothing given), or with the coach's own goal and why. */
export const ProposalDecision = Type.Object({
  advice: Type.Optional(Advice),
  targetSpm: Type.Optional(Type.Number({ minimum: 120, maximum: 220 })),
  reason: Type.Optional(Note),
  painNow: Type.Optional(PainScore),
});

export const ProposalBatch = Type.Object({ runnerIds: Type.Array(Id, { minItems: 1, maxItems: 500 }) });
