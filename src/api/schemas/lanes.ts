// Beat lanes for an evening: the fewest beats that serve everyone, or the best for so many speakers.
import { type Static, Type } from "typebox";
import { Id, nullable, PlainDate } from "./common.ts";

export const LaneQuery = Type.Object({
  tolerancePercent: Type.Optional(Type.Number({ minimum: 0.1, maximum: 10 })),
  speakers: Type.Optional(Type.Integer({ minimum: 1, maximum: 20 })),
  on: Type.Optional(PlainDate),
  speedBandMps: Type.Optional(
    Type.Number({
      minimum: 0.05,
      maximum: 3,
      description: "Members of a lane differ by at most this in speed, so that they can run together.",
    }),
  ),
  presentOnly: Type.Optional(Type.Boolean({ description: "Only runners marked present on that date." })),
});

const Lane = Type.Object({
  beatSpm: Type.Number(),
  speedMps: nullable(Type.Object({ low: Type.Number(), high: Type.Number() })),
  members: Type.Array(
    Type.Object({
      runnerId: Id,
      name: Type.String(),
      targetSpm: Type.Number(),
      deviationPercent: Type.Number({ description: "Beat against target; positive is quicker." }),
    }),
  ),
});

export const Lanes = Type.Object({
  on: PlainDate,
  tolerancePercent: Type.Number(),
  speakers: nullable(Type.Integer()),
  worstDeviationPercent: Type.Number(),
  lanes: Type.Array(Lane),
  without: Type.Array(Type.Object({ runnerId: Id, name: Type.String(), because: Type.String() })),
  warnings: Type.Array(Type.String()),
});
export type Lanes = Static<typeof Lanes>;
