// Rules D1–D9: what to do next week. The first rule that applies decides; the coach has the last word (D10).
import { Temporal } from "temporal-polyfill";
import { LATE_RUN_DROP_LIMIT, SPEED_UP_LIMIT_PERCENT, TARGET_BAND_SHARE } from "../evidence/change.ts";
import * as known from "../evidence/decisions.ts";
import * as planning from "../evidence/plans.ts";
import { calfAchillesShift, painStartLimit } from "../evidence/targets.ts";
import { percent, plain, type Reason, reason } from "../target/reason.ts";
import { nameRedFlags } from "../target/red-flags.ts";
import { type AdviceSettings, defaultSettings } from "../target/settings.ts";
import { daysBetween } from "./calendar.ts";
import type { Decision, DecisionAction } from "./decision.ts";
import { nextAfter } from "./next-rung.ts";
import type { Plan, PlainDateText } from "./plan.ts";
import type { WeekEvidence } from "./week-evidence.ts";

export interface PlanState {
  readonly plan: Plan;
  /** Rung that the runner is on, from 0; −1 at the baseline, the number of rungs in consolidation. */
  readonly rung: number;
  /** The first day that the decision is for: the start of next week. */
  readonly nextWeekOn: PlainDateText;
}

interface Verdict {
  readonly action: DecisionAction;
  readonly rule: string;
  readonly reasons: readonly Reason[];
  readonly question?: string;
  readonly recheckAfterHours?: number;
}

type Rule = (evidence: WeekEvidence, state: PlanState, settings: AdviceSettings) => Verdict | null;

/**
 * The proposed decision for one runner's week, with its reasons. Pure: the same plan, evidence and settings give the
 * same decision. What was not measured is never held for good: a runner moves on only when the band, the speed and the
 * absence of pain are known.
 */
export function decide(
  state: PlanState,
  evidence: WeekEvidence,
  settings: AdviceSettings = state.plan.request.settings ?? defaultSettings,
): Decision {
  check(state, evidence);
  const verdict = rules.reduce<Verdict | null>((found, rule) => found ?? rule(evidence, state, settings), null);
  const { action, rule, reasons, question, recheckAfterHours } = verdict ?? otherwise();
  return {
    action,
    proposedAction: action,
    rule,
    reasons,
    ...nextAfter(action, state.plan, state.rung),
    ...(question === undefined ? {} : { question }),
    ...(recheckAfterHours === undefined ? {} : { recheckAfterHours }),
    markedStop: action === "stop-and-refer",
  };
}

function check(state: PlanState, evidence: WeekEvidence): void {
  const { rung, plan } = state;
  if (!(Number.isInteger(rung) && rung >= -1 && rung <= plan.rungsSpm.length))
    throw new RangeError(`decide: rung must be −1 to ${plan.rungsSpm.length}, got ${rung}`);
  const pain = evidence.pain?.worst0to10 ?? 0;
  if (!(pain >= 0 && pain <= 10)) throw new RangeError(`decide: worst0to10 must be 0 to 10, got ${pain}`);
  for (const { inBandShare } of evidence.cuedSessions) {
    if (!(inBandShare >= 0 && inBandShare <= 1))
      throw new RangeError(`decide: inBandShare must be 0 to 1, got ${inBandShare}`);
  }
}

const stopAndRefer: Rule = (evidence, _state, settings) => {
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

const easeBackOnPain: Rule = (evidence, _state, settings) => {
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

const missedTooLong: Rule = (evidence, _state, settings) => {
  const missed = missedWeeks(evidence);
  if (missed < settings.missedWeeksBack) return null;
  return {
    action: "ease-back",
    rule: "P8",
    reasons: [
      reason(
        "P8",
        `${missed} weeks without a session: one stage back. Nothing is caught up.`,
        planning.missedWeeksBack,
      ),
    ],
    question: "What kept the runner away: time, or something that hurt?",
  };
};

const longRun: Rule = (evidence, _state, settings) => {
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

const nothingMeasured: Rule = (evidence) => {
  if (missedWeeks(evidence) > 0)
    return {
      action: "stay",
      rule: "D4",
      reasons: [
        reason("D4", "No session this week and nothing measured."),
        reason("P8", "A missed week repeats the stage; nothing is caught up.", planning.missedWeeksBack),
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

const faster: Rule = (evidence, _state, settings) => {
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

const lateDrop: Rule = (evidence, _state, settings) => {
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

const offTheBeat: Rule = (evidence, _state, settings) => {
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

/** D8 asks for all it needs; whatever is missing is a reason to stay, with the question that would settle it. */
const moveOn: Rule = (evidence, state, settings) => {
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

const rules: readonly Rule[] = [
  stopAndRefer,
  easeBackOnPain,
  missedTooLong,
  longRun,
  nothingMeasured,
  faster,
  lateDrop,
  offTheBeat,
  moveOn,
];

function otherwise(): Verdict {
  return {
    action: "stay",
    rule: "D9",
    reasons: [
      reason("D9", "Not held yet and nothing speaks against it: the same stage once more.", known.inBandMoveOnShare),
    ],
  };
}

function sourcesOf(rule: string): Parameters<typeof reason>[2][] {
  if (rule === "P2") return [planning.stageSessionsMin, planning.stageDaysMin];
  if (rule === "P9") return [planning.raceQuietDays];
  return rule === "T5" ? [calfAchillesShift] : [painStartLimit, SPEED_UP_LIMIT_PERCENT];
}

/** Mean over this week's measured sessions; null when there are none. */
function inBand(evidence: WeekEvidence): number | null {
  const count = evidence.measuredThisWeek ?? evidence.cuedSessions.length;
  const week = count > 0 ? evidence.cuedSessions.slice(-count) : [];
  if (week.length === 0) return null;
  return week.reduce((total, session) => total + session.inBandShare, 0) / week.length;
}

function missedWeeks(evidence: WeekEvidence): number {
  return evidence.missedWeeksInRow ?? (evidence.sessionsDone === 0 && evidence.sessionsPlanned > 0 ? 1 : 0);
}

function raceSoon(state: PlanState, settings: AdviceSettings): boolean {
  const race = state.plan.request.raceDate;
  if (race === undefined) return false;
  const days = daysBetween(Temporal.PlainDate.from(state.nextWeekOn).toString(), race);
  return days >= 0 && days <= settings.raceQuietDays;
}

function whereText(evidence: WeekEvidence): string {
  return evidence.pain?.where === undefined ? "" : ` (${evidence.pain.where})`;
}
