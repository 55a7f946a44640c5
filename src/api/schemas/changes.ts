// The history of what was changed by whom, and undo.
import { type Static, Type } from "typebox";
import { Id, Instant, nullable, PageQuery } from "./common.ts";

export const Change = Type.Object({
  id: Id,
  at: Instant,
  byName: Type.String(),
  what: Type.String({ description: "In plain words: 'count added', 'runner changed'." }),
  runnerId: nullable(Id),
  table: Type.String(),
  rowCount: Type.Integer(),
  undone: Type.Boolean(),
  undoOf: nullable(Id),
});
export type Change = Static<typeof Change>;

export const ChangeDetail = Type.Object({
  change: Change,
  rows: Type.Array(Type.Object({ table: Type.String(), rowId: Type.String(), before: Type.Any(), after: Type.Any() })),
});

export const ChangeQuery = Type.Object({ ...PageQuery, runnerId: Type.Optional(Id) });
