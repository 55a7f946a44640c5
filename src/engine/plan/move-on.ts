// Rule D8, and the plan rules P2, P9 and T5 that may still hold a stage.
import { SPEED_UP_LIMIT_PERCENT, TARGET_BAND_SHARE } from "../evidence/change.ts";
import * as known from "../evidence/decisions.ts";
import * as planning from "../evidence/plans.ts";
import { calfAchillesShift, painStartLimit } from "../evidence/targets.ts";
import { percent, plain, reason } from "../target/reason.ts";
import type { AdviceSettings } from "../target/settings.ts";
import { findProtocol } from "./all-protocols.ts";
import { daysBetween } from "./calendar.ts";
import { inBand, type PlanState, type Rule, type Verdict } from "./verdict.ts";
import type { WeekEvidence } from "./week-evidence.ts";

/** D8 asks for all it needs; whatever is missing is a reason to stay, with the question that would settle it. */
export const moveOn: Rule = (evidence, state, settings) => {
  const share = inBand(evidence);
  const speed = evidence.speedChangeShare;
  const carried = evidence.carryOverShare;
  if (state.rung < 0) return backToTheBeat(evidence, settings);
  if (share === null || share < settings.inBandMoveOnShare) return null;
  if (speed !== undefined && Math.abs(speed) > settings.speedHeldShare + 1e-9) return null;
  if (carried !== undefined && carried < settings.carriedOverShare) return null;
  const stay = (rule: string, text: string, question?: string): Verdict => ({
    action: "stay",
    rule,
    reasons: [reason(rule, text, ...sourcesOf(rule))],
    ...(question === undefined ? {} : { question }),
  });
  if (evidence.pain === undefined)
    return stay(
      "D8",
      "On the beat, but nobody asked about pain: no move without that answer.",
      "Any pain? 0 to 10, and where?",
    );
  if (evidence.pain.worst0to10 > settings.painStartLimit)
    return stay(
      "D8",
      `On the beat, but pain of ${plain(evidence.pain.worst0to10)} of 10: hold until it is ${plain(settings.painStartLimit)} or less.`,
    );
  if (state.plan.request.proposal.careful && evidence.calfAchillesAsked !== true)
    return stay(
      "T5",
      "On the beat, but calf and Achilles were not asked about this week.",
      "Calf and Achilles: sore, stiff in the morning?",
    );
  if (speed === undefined)
    return stay(
      "D8",
      "On the beat, but the speed is not known: the rise could be speed alone.",
      "Time a lap, or send a run with its speed.",
    );
  const { plan, rung } = state;
  const sessions = evidence.stageSessionsDone ?? evidence.sessionsDone;
  const days = evidence.stageDaysDone ?? 7;
  const protocol = plan.request.protocolId === undefined ? undefined : findProtocol(plan.request.protocolId);
  if (protocol !== undefined && rung < plan.rungsSpm.length && sessions < protocol.sessionCount.value)
    return stay(
      "P12",
      `On the beat; ${sessions} of ${protocol.sessionCount.value} sessions of the protocol are done, so it goes on.`,
    );
  if (rung < plan.rungsSpm.length && (sessions < settings.stageSessionsMin || days < settings.stageDaysMin))
    return stay(
      "P2",
      `On the beat; ${sessions} of ${settings.stageSessionsMin} sessions of this stage are done, so it goes on.`,
    );
  if (rung + 1 < plan.rungsSpm.length && raceSoon(state, settings))
    return stay("P9", `On the beat; no new stage in the ${settings.raceQuietDays} days before the race.`);
  return {
    action: "move-on",
    rule: "D8",
    reasons: [
      reason(
        "D8",
        `In band for ${percent(share)} of the time with the beat, speed within ${percent(settings.speedHeldShare)}${carried === undefined ? "" : `, and with the beat off ${percent(carried)} of the rise stays`}: held.`,
        known.inBandMoveOnShare,
        TARGET_BAND_SHARE,
        SPEED_UP_LIMIT_PERCENT,
        known.carriedOverShare,
      ),
    ],
    ...(carried === undefined
      ? { question: "Not measured with the beat off: leave it off for the last minutes once." }
      : {}),
  };
};

/** After an easing to the baseline there is no band to be in: quiet legs are enough to meet the first stage again. */
function backToTheBeat(evidence: WeekEvidence, settings: AdviceSettings): Verdict | null {
  if (evidence.pain === undefined || evidence.pain.worst0to10 > settings.painStartLimit) return null;
  return {
    action: "move-on",
    rule: "D8",
    reasons: [
      reason("D8", "A week at the runner's own step rate without trouble: the first stage again.", painStartLimit),
    ],
  };
}

function sourcesOf(rule: string): Parameters<typeof reason>[2][] {
  if (rule === "P2") return [planning.stageSessionsMin, planning.stageDaysMin];
  if (rule === "P12") return [];
  if (rule === "P9") return [planning.raceQuietDays];
  return rule === "T5" ? [calfAchillesShift] : [painStartLimit, SPEED_UP_LIMIT_PERCENT];
}

function raceSoon(state: PlanState, settings: AdviceSettings): boolean {
  const race = state.plan.request.raceDate;
  if (race === undefined) return false;
  const days = daysBetween(state.nextWeekOn, race);
  return days >= 0 && days <= settings.raceQuietDays;
}
