// What stands beside the finding: what the change cost, how it went over the weeks, and how much one day differs from the next.
import type { ChangeDetails } from "../../api/index.ts";
import type { Comparison } from "../../engine/change/comparison.ts";
import { effortCost, heartRateCost, type CostOverWeeks } from "../../engine/change/cost.ts";
import { learningCurve } from "../../engine/change/learning-curve.ts";
import type { Run } from "../../engine/change/run.ts";
import { minimalDetectableChange95, typicalError } from "../../engine/change/typical-error.ts";
import type { NotEnough, Uncertain } from "../../engine/quantities/uncertain.ts";

export interface ComparedRuns {
  readonly before: readonly Run[];
  readonly during: readonly Run[];
  readonly after: readonly Run[];
}

export function changeDetails(comparison: Comparison, runs: ComparedRuns): ChangeDetails {
  const { estimate, interval95 } = comparison.shrinkage.dayToDaySdPercent;
  const { verdict, wantedChangePercent } = comparison.everyLook;
  const heartRateBpm = presentCost(heartRateCost(runs.before, runs.after));
  return {
    everyLook: { verdict, wantedChangePercent },
    dayToDaySdPercent: { estimate, low95: interval95.low, high95: interval95.high },
    cost: { heartRateBpm, effort: presentCost(effortCost(runs.before, runs.after)) },
    weeks: overWeeks(comparison, runs),
  };
}

const orNull = (value: Uncertain | NotEnough): Uncertain | null => ("kind" in value ? null : value);

function presentCost(cost: CostOverWeeks<Uncertain>) {
  return { overall: orNull(cost.overall), early: orNull(cost.early), later: orNull(cost.later) };
}

function overWeeks(comparison: Comparison, { before, during, after }: ComparedRuns): ChangeDetails["weeks"] {
  const surface = before[0]?.surface;
  // On the way the other surface may have been used: it is not mixed in.
  const alike = (run: Run): boolean => run.surface === surface || run.surface === "unknown" || surface === "unknown";
  const seen = new Set<string>();
  const runs = [...before, ...during.filter(alike), ...after].filter((run) => !seen.has(run.id) && seen.add(run.id));
  const curve = learningCurve(runs, {
    atSpeedMps: comparison.referenceSpeedMps,
    exponent: comparison.shrinkage.speedExponent.estimate,
  });
  if ("kind" in curve) return null;
  const repeats = curve.points
    .filter((point) => before.some((run) => run.id === point.runId))
    .map((point) => point.stepRateSpm);
  const repeated = repeats.length < 2 ? undefined : typicalError(repeats);
  return {
    points: curve.points.map(({ runId, weeks, stepRateSpm }) => ({
      recordingId: runId,
      weeks: weeks ?? null,
      stepRateSpm,
    })),
    trendSpmPerWeek: orNull(curve.trendSpmPerWeek),
    repeats:
      repeated === undefined
        ? null
        : {
            runCount: repeated.repeatCount,
            typicalErrorSpm: repeated.typicalError,
            detectableSpm: minimalDetectableChange95(repeated.typicalError, repeated.repeatCount),
          },
  };
}
