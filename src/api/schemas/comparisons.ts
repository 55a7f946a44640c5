// Before against after at matched speed, and the numbers of the two pictures.
import { type Static, Type } from "typebox";
import { Id, Instant, Interval, NotEnough, nullable, Uncertain, Warning } from "./common.ts";

export const Finding = Type.Enum(["changed", "both", "faster-only", "dropped", "no-change", "not-enough-evidence"]);

const FieldPoint = Type.Object({ speedMps: Type.Number(), stepRateSpm: Type.Number() });

/** One side of the before/after field: the fitted line over speed, a point per run, a point per steady minute. */
const FieldSide = Type.Object({
  line: Type.Array(FieldPoint),
  runs: Type.Array(
    Type.Object({ recordingId: Id, speedMps: Type.Number(), stepRateSpm: Type.Number(), startedAt: nullable(Instant) }),
  ),
  minutes: Type.Array(FieldPoint),
  runCount: Type.Integer(),
});

const SpeedSplit = Type.Object({
  lnSpeed: Type.Number(),
  lnStepRate: Type.Number(),
  lnStepLength: Type.Number(),
  stepRateShare: nullable(Type.Number()),
  stepLengthShare: nullable(Type.Number()),
});

const CostOverWeeks = Type.Object({
  overall: nullable(Uncertain),
  early: nullable(Uncertain),
  later: nullable(Uncertain),
});

/** What stands beside the finding: how sure over many looks, what it cost, how it went over the weeks. */
export const ChangeDetails = Type.Object({
  everyLook: Type.Object({
    verdict: Type.Enum(["changed", "no-change", "go-on"]),
    wantedChangePercent: Type.Number(),
  }),
  dayToDaySdPercent: Type.Object({ estimate: Type.Number(), low95: Type.Number(), high95: Type.Number() }),
  cost: Type.Object({
    heartRateBpm: CostOverWeeks,
    effort: CostOverWeeks,
  }),
  weeks: nullable(
    Type.Object({
      points: Type.Array(Type.Object({ recordingId: Id, weeks: nullable(Type.Number()), stepRateSpm: Type.Number() })),
      trendSpmPerWeek: nullable(Uncertain),
      repeats: nullable(
        Type.Object({
          runCount: Type.Integer(),
          typicalErrorSpm: Type.Number(),
          detectableSpm: Type.Number({ description: "What as many runs on each side can tell from nothing." }),
        }),
      ),
    }),
  ),
});
export type ChangeDetails = Static<typeof ChangeDetails>;

export const Comparison = Type.Object({
  kind: Type.Literal("comparison"),
  finding: Finding,
  sentence: Type.String({ description: "In plain words, with the numbers." }),
  referenceSpeedMps: Type.Number(),
  matchedSpeedChangeSpm: Type.Object({ estimate: Type.Number(), low95: Type.Number(), high95: Type.Number() }),
  matchedSpeedChangeShare: Type.Number({ description: "Of the before step rate: 0.03 is 3 %." }),
  rawChangeSpm: Type.Number(),
  speedChangePercent: Type.Number(),
  targetShare: nullable(Type.Number({ description: "How much of the intended change was made; 1 is all." })),
  split: SpeedSplit,
  runsStillNeeded: nullable(Type.Integer()),
  lateRunDropSpm: Type.Object({ before: nullable(Uncertain), after: nullable(Uncertain) }),
  carryOver: nullable(Type.Object({ share: Type.Number(), interval95: Interval })),
  before: FieldSide,
  after: FieldSide,
  details: ChangeDetails,
  borrowed: Type.Array(Type.String(), { description: "What was leaned on beyond this runner's own runs." }),
  warnings: Type.Array(Warning),
});
export type Comparison = Static<typeof Comparison>;

export const ComparisonAnswer = Type.Union([
  Comparison,
  Type.Object({
    ...NotEnough.properties,
    before: FieldSide,
    after: FieldSide,
  }),
]);
export type ComparisonAnswer = Static<typeof ComparisonAnswer>;

export const ComparisonQuery = Type.Object({
  atSpeedMps: Type.Optional(Type.Number({ minimum: 0.5, maximum: 10 })),
  surface: Type.Optional(Type.Enum(["outdoor", "treadmill", "unknown"])),
});

/** One run against the before line, for the split bars of the timeline. */
export const RunSplit = Type.Object({
  recordingId: Id,
  startedAt: nullable(Instant),
  speedMps: Type.Number(),
  stepRateSpm: Type.Number(),
  matchedChangeSpm: nullable(Type.Number()),
  split: nullable(SpeedSplit),
  lateRunDropSpm: nullable(Uncertain),
  inBandShare: nullable(Type.Number()),
});
