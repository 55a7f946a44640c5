// Rules P1–P11: a proposal on a calendar.
import { runsNeeded } from "../change/runs-to-plan.ts";
import { CUE_EVERY_STEP } from "../evidence/beats.ts";
import { DAY_TO_DAY_SD } from "../evidence/change.ts";
import { standingDrillS } from "../evidence/sessions.ts";
import * as known from "../evidence/plans.ts";
import { fail, type Result, succeed, type Warning } from "../quantities/problem.ts";
import { listeningCaution } from "../target/cautions.ts";
import { plain, type Reason, reason } from "../target/reason.ts";
import { layOutRecall, layOutStages } from "./lay-out.ts";
import type { Plan, PlanRequest, PlanStage } from "./plan.ts";
import { protocolReasons } from "./protocol-reasons.ts";
import { withEdits } from "./session-edits.ts";
import { resolveRequest, type Resolved } from "./resolve-request.ts";
import { type Walk, walkWeeks } from "./walk.ts";

/**
 * Dated stages and sessions from a proposal to change. Weeks run from the start date; the same request always gives
 * the same plan. Faults of the request are problems: dates, ranges, an aim above the cap, a calendar without room.
 */
export function makePlan(request: PlanRequest): Result<Plan> {
  const resolution = resolveRequest(request);
  if (!resolution.ok) return resolution;
  const resolved = resolution.value;
  const walk = walkWeeks(
    request.startDate,
    { rung: 0, lastRung: -1 },
    resolved.length,
    resolved.calendar,
    resolved.settings,
  );
  if (!walk.finished || walk.stages.length === 0)
    return fail({
      code: "calendar-without-room",
      where: { field: "away" },
      got: "too many days taken",
      expected: "weeks in which sessions fit",
      remedy: "Shorten the away ranges, or move the start.",
    });
  const laid = layOutStages(resolved, walk, { stageCount: 0, cuedCount: 0 });
  const stages = withEdits(laid, resolved, request.sessionEdits ?? []);
  return succeed(assemble(request, resolved, stages, walk), warningsOf(resolved, stages));
}

/** Puts stages, totals, recall checks and reasons together; also after an adaptation. */
export function assemble(
  request: PlanRequest,
  resolved: Resolved,
  stages: readonly PlanStage[],
  walk: Pick<Walk, "missedWeeks">,
): Plan {
  const sessions = stages.flatMap((stage) => stage.sessions);
  const last = sessions.at(-1)?.date;
  return {
    request,
    status: "running",
    baselineSpm: resolved.baselineSpm,
    aimSpm: resolved.rungsSpm.at(-1) ?? resolved.baselineSpm,
    capSpm: resolved.capSpm,
    speedMps: resolved.speedMps,
    rungsSpm: resolved.rungsSpm,
    stages,
    recallChecks: last === undefined ? [] : layOutRecall(resolved, last),
    missedWeeks: walk.missedWeeks,
    totalMinutes: sum(sessions.map((session) => session.mainMinutes)),
    totalCuedMinutes: sum(sessions.map((session) => session.cuedMinutes)),
    reasons: reasonsOf(resolved, sum(sessions.map((session) => session.mainMinutes)), walk.missedWeeks.length),
    cautions: [...request.proposal.cautions, listeningCaution],
    decisions: [],
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function reasonsOf(resolved: Resolved, totalMinutes: number, missedCount: number): Reason[] {
  const { settings, protocol, calendar } = resolved;
  const reasons: Reason[] = [];
  if (protocol === undefined) {
    reasons.push(
      reason(
        "P1",
        `Stages of at most ${plain(settings.stageStepSpm)} spm, both feet, and never more than runners follow unasked.`,
        known.stageStepSpm,
        known.followedTempoShare,
      ),
      reason(
        "P2",
        `A stage lasts at least ${settings.stageDaysMin} days and ${settings.stageSessionsMin} sessions. Small weekly steps are coaching caution; no trial tested them.`,
        known.stageDaysMin,
        known.stageSessionsMin,
        known.weeklyStepsUntested,
      ),
      reason(
        "P3",
        `Sessions grow from ${settings.sessionMinutesStart} towards ${settings.sessionMinutesEnd} minutes; ${Math.round(totalMinutes)} minutes in all. Trials with lasting results had ${known.trialDoseMinutes.range?.join(" to ")}.`,
        known.sessionMinutesStart,
        known.sessionMinutesEnd,
        known.trialDoseMinutes,
      ),
      reason(
        "P4",
        "The beat fades over the last part of the sessions, except on the first day of a new stage.",
        known.fadeFromShare,
        known.fadeTailShares,
      ),
      reason(
        "P11",
        `${resolved.rungsSpm.length} stages, then ${resolved.length.consolidationWeeks} weeks of consolidation.`,
        known.stageCountMax,
        known.consolidationWeeks,
      ),
    );
  } else reasons.push(...protocolReasons(protocol));
  reasons.push(
    reason(
      "P5",
      "Each new stage begins with the beat learned standing still, then a shorter step at the same speed.",
      standingDrillS,
    ),
    reason("P6", "The beat marks every step, not every stride.", CUE_EVERY_STEP),
    reason(
      "P7",
      "In a week with a new stage, distance and intensity do not rise: one thing at a time.",
      known.oneThingAtATime,
    ),
  );
  reasons.push(measuringReason(resolved));
  if (missedCount > 0)
    reasons.push(
      reason(
        "P8",
        `${missedCount} week${missedCount === 1 ? "" : "s"} without sessions: the stage is repeated, after ${settings.missedWeeksBack} in a row the one before. Nothing missed speeds the plan up.`,
        known.missedWeeksBack,
      ),
    );
  if (calendar.raceDate !== undefined)
    reasons.push(
      reason(
        "P9",
        `No new stage in the ${settings.raceQuietDays} days before the race, and an easy last week.`,
        known.raceQuietDays,
        known.raceEasingDays,
        known.raceEasingShare,
        known.raceRestDays,
      ),
    );
  reasons.push(
    reason(
      "P10",
      `Looked at again with the beat off after ${known.recallMonths.value.join(", ")} months: some keep it only after a reminder.`,
      known.recallMonths,
    ),
  );
  return reasons;
}

/** How often to measure so that the planned rise will be seen if it is there: the simulated table of runs needed. */
function measuringReason(resolved: Resolved): Reason {
  const aimSpm = resolved.rungsSpm.at(-1) ?? resolved.baselineSpm;
  const risePercent = 100 * (aimSpm / resolved.baselineSpm - 1);
  const daysPercent = 100 * DAY_TO_DAY_SD.value.median;
  const runs = risePercent > 0 ? runsNeeded(daysPercent, risePercent) : undefined;
  const days = `days differ by about ${plain(daysPercent)} % (usual; a runner's own is told once there are runs)`;
  return reason(
    "D11",
    typeof runs === "number"
      ? `To see a rise of ${plain(risePercent)} % at the same speed, record ${runs} steady runs before the first stage and ${runs} at the end, each on a day of its own: ${days}.`
      : `So small a rise takes more than 12 recorded runs before and after to be seen at the same speed: ${days}.`,
    DAY_TO_DAY_SD,
  );
}

function warningsOf(resolved: Resolved, stages: readonly PlanStage[]): Warning[] {
  const total = sum(stages.flatMap((stage) => stage.sessions).map((session) => session.mainMinutes));
  if (total >= resolved.settings.trialDoseMinutes) return [];
  return [
    {
      code: "below-trial-dose",
      message: `${Math.round(total)} minutes in all is less than the ${resolved.settings.trialDoseMinutes} of trials with lasting results: add sessions or minutes, or expect less to stay.`,
    },
  ];
}
