// Rules T1–T9: leave alone, change, refer, or measure first.
import type { Baseline } from "../baseline/baseline.ts";
import { SPEED_EXPONENT } from "../evidence/change.ts";
import { boneWarningSigns } from "../evidence/decisions.ts";
import { baselineMaxStandardErrorSpm } from "../evidence/measuring.ts";
import * as known from "../evidence/targets.ts";
import { followedTempoShare, stageStepSpm, weeklyStepsUntested, stageCountMax } from "../evidence/plans.ts";
import type { NotEnough } from "../quantities/uncertain.ts";
import { chooseRise, leaveAlone } from "./choose-rise.ts";
import { standardCautions } from "./cautions.ts";
import { makeLadder } from "./ladder.ts";
import { flagImplausible } from "./plausibility.ts";
import type { History, Proposal } from "./proposal.ts";
import { percent, plain, type Reason, reason } from "./reason.ts";
import { nameRedFlags, type RedFlag } from "./red-flags.ts";
import { type AdviceSettings, defaultSettings } from "./settings.ts";
import { paceTable, stepRateAtSpeed } from "./speed-curve.ts";

export interface ProposalInput {
  readonly baseline: Baseline | NotEnough;
  /** The easy speed that the target is for; the baseline's own speed when absent. */
  readonly speedMps?: number;
  readonly heightM?: number;
  readonly legLengthM?: number;
  readonly history?: readonly History[];
  /** The runner's rating now, 0–10. */
  readonly painNow0to10?: number;
  readonly redFlags?: readonly RedFlag[];
  /** The coach's own goal, both feet, at `speedMps`. */
  readonly coachGoalSpm?: number;
  /** The runner's own growth of step rate with speed, once three speeds are known. */
  readonly speedExponent?: number;
  readonly settings?: AdviceSettings;
}

/**
 * Whether to change a runner's step rate, how far and why. Step rates are both feet, speeds m/s, heights m. The first
 * of these that applies: pain or a warning sign refers (T6), no sound baseline measures first (T1), a step rate in the
 * common-practice band with no pain is left alone (T2); otherwise the smallest sensible rise (T3) under the cap (T4, T5).
 */
export function proposeChange(input: ProposalInput): Proposal {
  const settings = input.settings ?? defaultSettings;
  const pain = input.painNow0to10 ?? 0;
  if (!(pain >= 0 && pain <= 10)) throw new RangeError(`proposeChange: painNow0to10 must be 0 to 10, got ${pain}`);
  const ownExponent = usableExponent(input.speedExponent);
  const speedExponent = ownExponent ?? settings.speedExponent;
  const place = placeBaseline(input, speedExponent);
  const careful = (input.history ?? []).some((entry) => entry !== "none");
  const cap =
    place === null
      ? null
      : place.baselineSpm * (1 + Math.min(settings.greatestRiseShare, careful ? settings.carefulRiseShare : Infinity));
  const shared = {
    targetSpm: null,
    aimSpm: null,
    capSpm: cap,
    baselineSpm: place?.baselineSpm ?? null,
    speedMps: place?.speedMps ?? input.speedMps ?? null,
    speedExponent,
    stages: [],
    paceTable: [],
    careful,
  } as const;

  const stop = referReasons(pain, input.redFlags ?? [], settings);
  if (stop.length > 0) return { ...shared, advice: "refer", reasons: stop, cautions: [...standardCautions] };

  const missing = missingBaseline(input.baseline, settings);
  if (missing !== null || place === null || cap === null)
    return { ...shared, advice: "measure-first", reasons: missing ?? [], cautions: [...standardCautions] };

  const { baselineSpm, speedMps } = place;
  const cautions = [...standardCautions, ...place.cautions];
  if (input.speedExponent !== undefined && ownExponent === undefined)
    cautions.push(
      `The runner's own growth of step rate with speed (${input.speedExponent}) is outside 0 to 0.5 and was not used; check the speeds behind it.`,
    );
  const marks = flagImplausible(baselineSpm, speedMps ?? undefined, input, settings);

  const leave = leaveAlone(baselineSpm, pain, settings);
  if (leave !== null) {
    if (input.coachGoalSpm !== undefined && input.coachGoalSpm > baselineSpm)
      cautions.push(
        `The coach's goal of ${plain(input.coachGoalSpm)} spm is kept in view but not proposed; set it as the aim if you want it all the same.`,
      );
    return { ...shared, advice: "leave-alone", reasons: [leave, ...marks, limitOfClaims()], cautions };
  }

  const chosen = chooseRise(baselineSpm, cap, careful, input.coachGoalSpm, settings);
  const ladder = makeLadder(baselineSpm, chosen.aimSpm, careful, settings);
  const reasons = [...chosen.reasons];
  if (careful)
    reasons.push(
      reason(
        "T5",
        `After calf, Achilles or bone trouble: at most ${percent(settings.carefulRiseShare)} above the baseline, stages of half size, and calf and Achilles are asked about every week.`,
        known.carefulRiseShare,
        known.carefulStageShare,
        known.calfAchillesShift,
      ),
    );
  reasons.push(stageReason(ladder.stages, baselineSpm));
  if (ladder.cutShort)
    reasons.push(
      reason(
        "P11",
        `This programme ends at ${plain(ladder.aimSpm)} spm after ${ladder.stages.length} stages; the rest waits for the next one.`,
        stageCountMax,
      ),
    );
  if (speedMps !== null) reasons.push(curveReason(ownExponent, settings));
  else
    cautions.push("The baseline's speed is not known. Measure a lap, or use a belt: a target only holds at a speed.");
  reasons.push(...marks, limitOfClaims());
  const aimSpm = ladder.aimSpm;
  return {
    ...shared,
    advice: "change",
    aimSpm,
    targetSpm: {
      low: Math.max(baselineSpm, aimSpm * (1 - settings.bandShare)),
      high: Math.min(cap, aimSpm * (1 + settings.bandShare)),
    },
    stages: ladder.stages,
    paceTable: speedMps === null ? [] : paceTable(aimSpm, speedMps, { exponent: speedExponent }),
    reasons,
    cautions,
  };
}

function usableExponent(exponent: number | undefined): number | undefined {
  return exponent !== undefined && exponent >= 0 && exponent <= 0.5 ? exponent : undefined;
}

interface Place {
  readonly baselineSpm: number;
  readonly speedMps: number | null;
  readonly cautions: readonly string[];
}

/** The baseline brought to the speed that the target is for. */
function placeBaseline(input: ProposalInput, exponent: number): Place | null {
  if ("kind" in input.baseline) return null;
  const measured = input.baseline.stepRateSpm.estimate;
  if (!(measured > 0)) throw new RangeError(`proposeChange: the baseline must be above 0 spm, got ${measured}`);
  const measuredMps = input.baseline.speedMps;
  const cautions: string[] = [];
  if (input.baseline.surface === "treadmill")
    cautions.push("The baseline was measured on a treadmill; judge the change on the treadmill too.");
  if (measuredMps === undefined || input.speedMps === undefined)
    return { baselineSpm: measured, speedMps: input.speedMps ?? measuredMps ?? null, cautions };
  const ratio = input.speedMps / measuredMps;
  if (ratio < 0.85 || ratio > 1.15)
    cautions.push(
      "The baseline was measured at quite another speed than the target is for; measure it once more at easy speed.",
    );
  return {
    baselineSpm: stepRateAtSpeed(measured, measuredMps, input.speedMps, exponent),
    speedMps: input.speedMps,
    cautions,
  };
}

function referReasons(pain: number, flags: readonly RedFlag[], settings: AdviceSettings): Reason[] {
  const reasons: Reason[] = [];
  if (flags.length > 0)
    reasons.push(
      reason(
        "T6",
        `Warning sign: ${nameRedFlags(flags)}. Do not start; a doctor or physiotherapist should see the runner first.`,
        boneWarningSigns,
      ),
    );
  if (pain > settings.painStartLimit)
    reasons.push(
      reason(
        "T6",
        `Pain of ${plain(pain)} of 10 now: do not start a change. Let it settle, or let a doctor or physiotherapist see it first.`,
        known.painStartLimit,
      ),
    );
  return reasons;
}

function missingBaseline(baseline: Baseline | NotEnough, settings: AdviceSettings): Reason[] | null {
  if ("kind" in baseline)
    return [
      reason(
        "T1",
        `No sound baseline yet, so no proposal. Needed: ${baseline.need}. So far: ${baseline.have}.`,
        baselineMaxStandardErrorSpm,
      ),
    ];
  const error = baseline.stepRateSpm.standardError;
  if (error <= settings.baselineErrorLimitSpm) return null;
  return [
    reason(
      "T1",
      `The baseline is only known to ± ${plain(error)} spm (standard error; ${plain(settings.baselineErrorLimitSpm)} is needed). Count one foot for a minute, twice, or time 50 contacts of one foot with a stopwatch.`,
      baselineMaxStandardErrorSpm,
    ),
  ];
}

function stageReason(stages: readonly number[], baselineSpm: number): Reason {
  const first = stages[0] ?? baselineSpm;
  return reason(
    "P1",
    `${stages.length} stage${stages.length === 1 ? "" : "s"}, the first ${plain(first - baselineSpm)} spm up. Small weekly steps are coaching caution; no trial tested them.`,
    stageStepSpm,
    followedTempoShare,
    weeklyStepsUntested,
  );
}

function curveReason(ownExponent: number | undefined, settings: AdviceSettings): Reason {
  return reason(
    "T7",
    ownExponent === undefined
      ? `The target moves a little with speed (power ${settings.speedExponent}, from five studies, until the runner's own is known at three speeds).`
      : `The target moves with speed as this runner's own steps do (power ${Math.round(ownExponent * 1000) / 1000}).`,
    SPEED_EXPONENT,
  );
}

function limitOfClaims(): Reason {
  return reason(
    "T9",
    "Not known: whether a quicker step prevents injury or makes anyone faster. Known: it changes loads at knee and hip, and effort rises at first.",
    known.claimsCeiling,
    known.effortRiseSmd,
  );
}
