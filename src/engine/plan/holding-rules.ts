// Rules D1–D7 and P8: all that speaks against moving on.
import { LATE_RUN_DROP_LIMIT, SPEED_UP_LIMIT_PERCENT, TARGET_BAND_SHARE } from "../evidence/change.ts";
import * as known from "../evidence/decisions.ts";
import { missedWeeksBack } from "../evidence/plans.ts";
import { percent, plain, type Reason, reason } from "../target/reason.ts";
import { nameRedFlags } from "../target/red-flags.ts";
import { inBand, missedWeeks, type Rule } from "./verdict.ts";
import type { WeekEvidence } from "./week-evidence.ts";

export const stopAndRefer: Rule = (evidence, _state, settings) => {
  const pain = evidence.pain?.worst0to10 ?? 0;
  const flags = evidence.pain?.redFlags ?? [];
  const reasons: Reason[] = [];
  if (pain > settings.painReferLimit)
    reasons.push(
      reason(
        "D1",
        `Pain of ${plain(pain)} of 10${whereText(evidence)}: stop running to the beat and have a doctor or physiotherapist see it.`,
        known.painReferLimit,
      ),
    );
  if (flags.length > 0)
    reasons.push(
      reason(
        "D1",
        `Warning sign: ${nameRedFlags(flags)}${whereText(evidence)}. Stop, and have a doctor or physiotherapist see it. Nobody runs on to find out.`,
        known.boneWarningSigns,
      ),
    );
  return reasons.length === 0 ? null : { action: "stop-and-refer", rule: "D1", reasons };
};

export const easeBackOnPain: Rule = (evidence, _state, settings) => {
  const pain = evidence.pain?.worst0to10 ?? 0;
  if (pain < settings.painEaseLimit) return null;
  return {
    action: "ease-back",
    rule: "D2",
    reasons: [
      reason(
        "D2",
        `Pain of ${plain(pain)} of 10${whereText(evidence)}: one stage back, and ask again after ${settings.painRecheckHours} hours. If it is worse by then, stop and refer.`,
        known.painEaseLimit,
        known.painRecheckHours,
      ),
    ],
    question: `How is the pain after ${settings.painRecheckHours} hours?`,
    recheckAfterHours: settings.painRecheckHours,
  };
};

export const missedTooLong: Rule = (evidence, _state, settings) => {
  const missed = missedWeeks(evidence);
  if (missed < settings.missedWeeksBack) return null;
  return {
    action: "ease-back",
    rule: "P8",
    reasons: [
      reason("P8", `${missed} weeks without a session: one stage back. Nothing is caught up.`, missedWeeksBack),
    ],
    question: "What kept the runner away: time, or something that hurt?",
  };
};

export const longRun: Rule = (evidence, _state, settings) => {
  const { longestRunM, longestBefore30DaysM } = evidence;
  if (longestRunM === undefined || longestBefore30DaysM === undefined || longestBefore30DaysM <= 0) return null;
  const over = longestRunM / longestBefore30DaysM - 1;
  // The tiny allowance keeps 11 km after 10 km from counting as more than 10 % through binary fractions.
  if (over <= settings.longRunLimitShare + 1e-9) return null;
  return {
    action: "stay",
    rule: "D3",
    reasons: [
      reason(
        "D3",
        `One run was ${percent(over)} longer than the longest of the last ${known.longRunLookbackDays.value} days: no new stage on top of that.`,
        known.longRunLimitShare,
        known.longRunLookbackDays,
      ),
    ],
  };
};

export const nothingMeasured: Rule = (evidence) => {
  if (missedWeeks(evidence) > 0)
    return {
      action: "stay",
      rule: "D4",
      reasons: [
        reason("D4", "No session this week and nothing measured."),
        reason("P8", "A missed week repeats the stage; nothing is caught up.", missedWeeksBack),
      ],
      question: "Ask for one run, or one count of one foot for a minute.",
    };
  const measured = evidence.measuredThisWeek ?? evidence.cuedSessions.length;
  if (measured > 0 || evidence.otherMeasured === true) return null;
  return {
    action: "stay",
    rule: "D4",
    reasons: [reason("D4", "Nothing was measured this week, so nothing is known to be held.")],
    question: "Ask for one run, or one count of one foot for a minute.",
  };
};

export const faster: Rule = (evidence, _state, settings) => {
  const share = inBand(evidence);
  const speed = evidence.speedChangeShare;
  if (share === null || speed === undefined) return null;
  if (share < settings.inBandMoveOnShare || speed <= settings.speedHeldShare) return null;
  return {
    action: "stay",
    rule: "D5",
    reasons: [
      reason(
        "D5",
        `On the beat, but ${percent(speed)} faster: some of the rise may be speed alone. Same speed, shorter steps.`,
        SPEED_UP_LIMIT_PERCENT,
      ),
    ],
  };
};

export const lateDrop: Rule = (evidence, _state, settings) => {
  const drop = evidence.lateDropShare;
  if (drop === undefined) return null;
  const usual = evidence.usualLateDropShare;
  const limit = usual === undefined ? settings.lateDropShare : Math.min(usual, settings.lateDropShare);
  if (drop <= limit) return null;
  return {
    action: "stay",
    rule: "D6",
    reasons: [
      reason(
        "D6",
        `Towards the end of the run the step rate fell by ${percent(drop)} at the same speed, more than ${drop > settings.lateDropShare ? percent(settings.lateDropShare) : "this runner usually falls"}: held, but not to the end yet.`,
        LATE_RUN_DROP_LIMIT,
      ),
    ],
  };
};

export const offTheBeat: Rule = (evidence, _state, settings) => {
  const lastTwo = evidence.cuedSessions.slice(-2);
  if (lastTwo.length < 2 || lastTwo.some((session) => session.inBandShare >= settings.inBandEaseShare)) return null;
  return {
    action: "ease-back",
    rule: "D7",
    reasons: [
      reason(
        "D7",
        `In band for less than ${percent(settings.inBandEaseShare)} of the time in two sessions running: this stage is too big for now.`,
        known.inBandEaseShare,
        TARGET_BAND_SHARE,
      ),
    ],
  };
};

function whereText(evidence: WeekEvidence): string {
  return evidence.pain?.where === undefined ? "" : ` (${evidence.pain.where})`;
}
