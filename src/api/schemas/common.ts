// Shapes that many resources share. Lengths are limited everywhere: a text field is not a file store.
import { type Static, Type } from "typebox";

/** Any RFC 9562 UUID in lower case. Whoever creates a thing names it, so that sending twice is harmless. */
export const Id = Type.String({
  pattern: "^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$",
  description: "A UUID (RFC 9562), made by whoever creates the thing; version 7 sorts by time.",
});
export type Id = Static<typeof Id>;

export const Instant = Type.String({
  pattern: "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,3})?Z$",
  description: "A moment in UTC, RFC 3339 with a Z.",
});

export const PlainDate = Type.String({
  pattern: "^\\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\\d|3[01])$",
  description: "A calendar date without a zone.",
});

export const Name = Type.String({ minLength: 1, maxLength: 120, pattern: "^[^\\u0000-\\u001f\\u007f]+$" });
export const Note = Type.String({ maxLength: 4000, pattern: "^[^\\u0000]*$" });

export const PainScore = Type.Integer({ minimum: 0, maximum: 10, description: "0 none, 10 worst imaginable." });
export const Surface = Type.Enum(["outdoor", "treadmill", "unknown"]);
export const Feet = Type.Enum(["one", "both"]);

export const Interval = Type.Object({ low: Type.Number(), high: Type.Number() });

export const Uncertain = Type.Object(
  {
    estimate: Type.Number(),
    standardError: Type.Number(),
    interval95: Interval,
    sampleCount: Type.Number(),
    method: Type.String(),
  },
  { description: "An estimate with its uncertainty; the unit is in the field's name." },
);
export type Uncertain = Static<typeof Uncertain>;

export const NotEnough = Type.Object(
  { kind: Type.Literal("not-enough"), need: Type.String(), have: Type.String() },
  { description: "No answer yet, and what would be enough." },
);

export const Warning = Type.Object({ code: Type.String(), message: Type.String() });

export const Problem = Type.Object(
  {
    code: Type.String(),
    where: Type.Object({
      file: Type.Optional(Type.String()),
      line: Type.Optional(Type.Number()),
      row: Type.Optional(Type.Number()),
      column: Type.Optional(Type.String()),
      field: Type.Optional(Type.String()),
    }),
    got: Type.String(),
    expected: Type.String(),
    remedy: Type.String(),
  },
  { description: "Bad input: where, what was expected, what there was, what to do." },
);

/** RFC 9457. `code` is stable; `title` and `detail` are for people. */
export const ProblemDocument = Type.Object(
  {
    type: Type.String({ description: "urn:spondee:problem: and the code" }),
    title: Type.String(),
    status: Type.Integer(),
    code: Type.String(),
    detail: Type.Optional(Type.String()),
    instance: Type.Optional(Type.String({ description: "The request's id, to find it in the log." })),
    problems: Type.Optional(Type.Array(Problem)),
  },
  { description: "RFC 9457 problem details." },
);
export type ProblemDocument = Static<typeof ProblemDocument>;

export const PageQuery = {
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500, default: 100 })),
  after: Type.Optional(Type.String({ maxLength: 400, description: "The `next` of the page before." })),
};

/** Cursor paging: `next` is null on the last page. */
export const pageOf = <T extends Type.TSchema>(item: T) =>
  Type.Object({ items: Type.Array(item), next: Type.Union([Type.String(), Type.Null()]), total: Type.Integer() });

/** What every write answers: the thing as stored, and the change that can be undone (null when nothing changed). */
export const savedOf = <T extends Type.TSchema>(item: T) =>
  Type.Object({ item, changeId: Type.Union([Id, Type.Null()]) });

export const Changed = Type.Object({ changeId: Type.Union([Id, Type.Null()]) });

export const nullable = <T extends Type.TSchema>(item: T) => Type.Union([item, Type.Null()]);
