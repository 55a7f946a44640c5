// From the server's answers to the before/after field: which lines, which points, which target, which gap.
import type { BaselineAnswer, ComparisonAnswer, Plan, ProposalAnswer } from "../../api/index.ts";
import { SPEED_EXPONENT, TARGET_BAND_SHARE } from "../../engine/evidence/change.ts";
import type { FieldData, FieldSide, FieldTarget } from "../../ui/pictures/before-after-layout.ts";

type Side = ComparisonAnswer["before"];

/** How far either way a line through a single speed is drawn, so that it can be seen as a line. */
const AROUND_ONE_SPEED = 0.06;
const LINE_POINTS = 13;

export function fieldData(
  comparison: ComparisonAnswer | undefined,
  baseline: BaselineAnswer | undefined,
  proposal: ProposalAnswer | undefined,
  plan: Plan | undefined,
): FieldData {
  const known = baseline?.kind === "baseline" ? baseline : undefined;
  const target = targetOf(proposal, plan, known?.speedMps ?? undefined);
  if (comparison?.kind === "comparison") {
    const reference = comparison.referenceSpeedMps;
    const before = sideOf(comparison.before);
    const after = sideOf(comparison.after);
    const { estimate, low95, high95 } = comparison.matchedSpeedChangeSpm;
    return {
      ...(before ? { before } : {}),
      ...(after ? { after } : {}),
      ...(target ? { target } : {}),
      ...(before && after
        ? { gap: { speedMps: reference, changeSpm: estimate, interval95: { low: low95, high: high95 } } }
        : {}),
    };
  }
  const before = baselineSide(known, comparison?.before);
  return { ...(before ? { before } : {}), ...(target ? { target } : {}) };
}

function sideOf(side: Side): FieldSide | undefined {
  if (side.line.length < 2) return undefined;
  return {
    line: side.line.toSorted((a, b) => a.speedMps - b.speedMps),
    runs: side.runs.map(({ speedMps, stepRateSpm }) => ({ speedMps, stepRateSpm })),
    minutes: side.minutes,
  };
}

/** A baseline alone: the usual slope through its one known point, over the speeds that were run. */
function baselineSide(
  baseline: Extract<BaselineAnswer, { kind: "baseline" }> | undefined,
  side: Side | undefined,
): FieldSide | undefined {
  if (!baseline || baseline.speedMps === null) return undefined;
  const known = baseline.speedMps;
  const runs = (side?.runs ?? []).map(({ speedMps, stepRateSpm }) => ({ speedMps, stepRateSpm }));
  const minutes = side?.minutes ?? [];
  const speeds = [...runs, ...minutes].map((point) => point.speedMps);
  const low = Math.min(known * (1 - AROUND_ONE_SPEED), ...speeds);
  const high = Math.max(known * (1 + AROUND_ONE_SPEED), ...speeds);
  const at = (speedMps: number): { speedMps: number; stepRateSpm: number } => ({
    speedMps,
    stepRateSpm: baseline.stepRateSpm.estimate * (speedMps / known) ** SPEED_EXPONENT.value.mean,
  });
  return {
    line: Array.from({ length: LINE_POINTS }, (_, i) => at(low + ((high - low) * i) / (LINE_POINTS - 1))),
    runs,
    minutes,
  };
}

/** Where the runner is to be now: this stage's band, or the proposal's when there is no plan yet. */
function targetOf(
  proposal: ProposalAnswer | undefined,
  plan: Plan | undefined,
  baselineSpeedMps: number | undefined,
): FieldTarget | undefined {
  const made = proposal?.accepted?.proposal ?? proposal?.computed;
  const speedMps = plan?.speedMps ?? made?.speedMps ?? baselineSpeedMps;
  if (speedMps === undefined || (proposal?.accepted?.advice ?? made?.advice) !== "change") return undefined;
  const exponent = exponentOf(made?.paceTable ?? []) ?? SPEED_EXPONENT.value.mean;
  const stage = plan?.stages[plan.currentStageIndex];
  if (stage) {
    const half = stage.stepRateSpm * TARGET_BAND_SHARE.value;
    return { lowSpm: stage.stepRateSpm - half, highSpm: stage.stepRateSpm + half, speedMps, exponent };
  }
  if (!made?.targetSpm) return undefined;
  return { lowSpm: made.targetSpm.low, highSpm: made.targetSpm.high, speedMps, exponent };
}

/** The exponent that a pace table follows, from its first and last row; undefined with fewer than two speeds. */
export function exponentOf(
  table: readonly { readonly speedMps: number; readonly stepRateSpm: number }[],
): number | undefined {
  const first = table[0];
  const last = table.at(-1);
  if (!first || !last || first.speedMps === last.speedMps) return undefined;
  return Math.log(last.stepRateSpm / first.stepRateSpm) / Math.log(last.speedMps / first.speedMps);
}
