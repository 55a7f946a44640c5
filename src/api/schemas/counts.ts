// A count taken by ear or eye, and what it says.
import { type Static, Type } from "typebox";
import { Feet, Id, Instant, nullable, Surface, Uncertain, Warning } from "./common.ts";

export const CountInput = Type.Object(
  {
    way: Type.Enum(["contacts-in-time", "time-of-contacts"], {
      description: "Contacts in a set time, or the stopwatch time of a set number of contacts.",
    }),
    contacts: Type.Number({ description: "As typed; the server says what is wrong with an impossible one." }),
    seconds: Type.Number({ description: "Length of the count, or the stopwatch reading." }),
    feet: Feet,
    first: Type.Optional(
      Type.Enum(["zero", "one", "unknown"], {
        description: "What the first contact was called; unknown when absent: every contact between two tones.",
      }),
    ),
    lapLengthM: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 100_000 })),
    lapTimeS: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 100_000 })),
    speedMps: Type.Optional(Type.Number({ minimum: 0.3, maximum: 12, description: "Belt speed, when known." })),
    surface: Type.Optional(Surface),
    cue: Type.Optional(Type.Enum(["on", "off"], { description: "Whether the beat was playing." })),
    purpose: Type.Optional(Type.Enum(["baseline", "check"], { description: "baseline when absent." })),
    measuredAt: Instant,
    note: Type.Optional(Type.String({ maxLength: 400 })),
    confirmed: Type.Optional(Type.Boolean({ description: "The coach saw the query about this number and means it." })),
  },
  { additionalProperties: false },
);
export type CountInput = Static<typeof CountInput>;

export const Count = Type.Object({
  id: Id,
  runnerId: Id,
  way: Type.Enum(["contacts-in-time", "time-of-contacts"]),
  contacts: Type.Number(),
  seconds: Type.Number(),
  feet: Feet,
  first: Type.Enum(["zero", "one", "unknown"]),
  stepRateSpm: Uncertain,
  speedMps: nullable(Type.Number()),
  surface: Surface,
  cue: nullable(Type.Enum(["on", "off"])),
  purpose: Type.Enum(["baseline", "check"]),
  measuredAt: Instant,
  note: Type.String(),
  by: Type.Enum(["coach", "runner"]),
  warnings: Type.Array(Warning),
});
export type Count = Static<typeof Count>;

export const CountBatch = Type.Object({
  counts: Type.Array(Type.Object({ id: Id, runnerId: Id, count: CountInput }), { minItems: 1, maxItems: 500 }),
});
