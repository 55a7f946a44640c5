// Every threshold of rules T, P, D and L, with its default, its permitted range and its source. A coach may change each one.
import type { Evidence } from "../evidence/evidence.ts";
import * as decisions from "../evidence/decisions.ts";
import * as lanes from "../evidence/lanes.ts";
import * as plans from "../evidence/plans.ts";
import {
  LATE_RUN_DROP_LIMIT,
  SMALLEST_WORTHWHILE_CHANGE_SPM,
  SPEED_EXPONENT,
  SPEED_UP_LIMIT_PERCENT,
  TARGET_BAND_SHARE,
} from "../evidence/change.ts";
import * as targets from "../evidence/targets.ts";
import { baselineMaxStandardErrorSpm } from "../evidence/measuring.ts";
import { type Problem, type Result, succeed } from "../quantities/problem.ts";

export interface Setting {
  /** Rules that use it. */
  readonly rules: readonly string[];
  readonly label: string;
  readonly default: number;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  /** Id of the evidence that the default comes from. */
  readonly evidence: string;
}

/** A setting whose default is the evidence's own value, or the given part of it where that is not one number. */
function setting(
  rules: readonly string[],
  label: string,
  from: Evidence<unknown>,
  low: number,
  high: number,
  part?: { readonly value: number; readonly unit: string },
): Setting {
  const value = part?.value ?? from.value;
  if (typeof value !== "number") throw new TypeError(`setting: ${from.id} is not one number; say which part`);
  return { rules, label, default: value, unit: part?.unit ?? from.unit, low, high, evidence: from.id };
}

export const settingTable = {
  baselineErrorLimitSpm: setting(
    ["M1", "T1"],
    "Largest standard error of a baseline",
    baselineMaxStandardErrorSpm,
    0.5,
    5,
  ),
  smallestWorthwhileSpm: setting(["T2", "D11"], "Smallest change worth having", SMALLEST_WORTHWHILE_CHANGE_SPM, 0.5, 6),
  commonBandLowSpm: setting(["T2", "T3"], "Low edge of the common-practice band", targets.commonBandLowSpm, 150, 190),
  commonBandHighSpm: setting(["T2"], "High edge of the common-practice band", targets.commonBandHighSpm, 160, 210),
  usualRiseShare: setting(["T3"], "Usual rise over the baseline", targets.usualRiseShare, 0.02, 0.1),
  // The cap is the highest dose that was ever studied: a coach may lower it, not raise it.
  greatestRiseShare: setting(["T4"], "Greatest rise in one programme", targets.greatestRiseShare, 0.02, 0.1),
  carefulRiseShare: setting(
    ["T5"],
    "Greatest rise after calf, Achilles or bone trouble",
    targets.carefulRiseShare,
    0.01,
    0.05,
  ),
  carefulStageShare: setting(["T5"], "Size of a careful stage against the usual", targets.carefulStageShare, 0.25, 1),
  painStartLimit: setting(
    ["T6", "D8"],
    "Highest pain at which a change may start or go on",
    targets.painStartLimit,
    0,
    2,
  ),
  speedExponent: setting(
    ["T7"],
    "Growth of step rate with speed when the runner's own is unknown",
    SPEED_EXPONENT,
    0,
    0.4,
    { value: SPEED_EXPONENT.value.mean, unit: "1" },
  ),
  heightFlagSpreads: setting(
    ["T8"],
    "Distance from the expected value that asks for a second look",
    targets.heightFlagSpreads,
    2,
    5,
  ),
  stageStepSpm: setting(["P1"], "Size of a stage", plans.stageStepSpm, 0.5, 6),
  stageShareMax: setting(["P1"], "Greatest stage as a share of the baseline", plans.followedTempoShare, 0.005, 0.03),
  stageCountMax: setting(["P11"], "Stages in one programme", plans.stageCountMax, 1, 20),
  stageDaysMin: setting(["P2"], "Shortest stage", plans.stageDaysMin, 7, 28),
  stageSessionsMin: setting(["P2"], "Fewest beat sessions in a stage", plans.stageSessionsMin, 1, 12),
  sessionsPerWeek: setting(["P2"], "Sessions a week", plans.sessionsPerWeek, 1, 6),
  sessionMinutesStart: setting(["P3"], "Minutes of the first session", plans.sessionMinutesStart, 5, 60),
  sessionMinutesEnd: setting(["P3"], "Minutes of the last session", plans.sessionMinutesEnd, 5, 90),
  trialDoseMinutes: setting(["P3"], "Minutes in all for a trial-like dose", plans.trialDoseMinutes, 0, 1000),
  fadeFromShare: setting(["P4"], "Share of the sessions before the beat fades", plans.fadeFromShare, 0, 1),
  consolidationWeeks: setting(["P11"], "Weeks of consolidation", plans.consolidationWeeks, 0, 12),
  missedWeeksBack: setting(["P8"], "Missed weeks in a row that step back a stage", plans.missedWeeksBack, 1, 2),
  raceQuietDays: setting(["P9"], "Days before a race without a new stage", plans.raceQuietDays, 7, 42),
  raceEasingDays: setting(["P9"], "Days of easing before a race", plans.raceEasingDays, 0, 21),
  raceEasingShare: setting(["P9"], "Session length while easing", plans.raceEasingShare, 0.2, 1),
  raceRestDays: setting(["P9"], "Days around a race without a beat session", plans.raceRestDays, 0, 7),
  painReferLimit: setting(["D1"], "Pain above this stops and refers", decisions.painReferLimit, 3, 5),
  painEaseLimit: setting(["D2"], "Pain from this eases back", decisions.painEaseLimit, 1, 3),
  painRecheckHours: setting(["D2"], "Hours until pain is asked about again", decisions.painRecheckHours, 12, 24),
  longRunLimitShare: setting(
    ["D3"],
    "Longest run over the longest of the last 30 days",
    decisions.longRunLimitShare,
    0,
    0.1,
  ),
  speedHeldShare: setting(
    ["D5", "D8"],
    "Speed difference that still counts as the same speed",
    SPEED_UP_LIMIT_PERCENT,
    0.01,
    0.05,
    { value: SPEED_UP_LIMIT_PERCENT.value / 100, unit: "share of the reference speed" },
  ),
  lateDropShare: setting(["D6"], "Late-run drop that holds a stage", LATE_RUN_DROP_LIMIT, 0.005, 0.05, {
    value: -LATE_RUN_DROP_LIMIT.value,
    unit: LATE_RUN_DROP_LIMIT.unit,
  }),
  bandShare: setting(["T3", "D7", "D8"], "Half width of the band around a target", TARGET_BAND_SHARE, 0.005, 0.03),
  inBandMoveOnShare: setting(["D5", "D8"], "In band at least this: may move on", decisions.inBandMoveOnShare, 0.5, 1),
  inBandEaseShare: setting(["D7"], "In band under this, twice running: ease back", decisions.inBandEaseShare, 0, 0.8),
  carriedOverShare: setting(
    ["D8"],
    "Share of the rise that must stay with the beat off",
    decisions.carriedOverShare,
    0,
    1,
  ),
  runsPerSideMin: setting(["D11"], "Runs on each side before “it worked” may be said", decisions.runsPerSideMin, 2, 10),
  laneToleranceShare: setting(["L1"], "Tolerance of a beat lane", lanes.laneToleranceShare, 0.002, 0.03),
} as const satisfies Record<string, Setting>;

export type SettingKey = keyof typeof settingTable;
export type AdviceSettings = { readonly [Key in SettingKey]: number };

export const defaultSettings: AdviceSettings = Object.freeze(
  Object.fromEntries(Object.entries(settingTable).map(([key, entry]) => [key, entry.default])) as AdviceSettings,
);

/**
 * The defaults with a coach's changes. Numbers outside a setting's range, unknown names and pairs that contradict each
 * other are problems, all of them told; nothing is clipped silently.
 */
export function checkSettings(changes: Readonly<Record<string, unknown>>): Result<AdviceSettings> {
  const problems: Problem[] = [];
  const settings: Record<string, number> = { ...defaultSettings };
  for (const [key, value] of Object.entries(changes)) {
    const entry: Setting | undefined = Object.hasOwn(settingTable, key) ? settingTable[key as SettingKey] : undefined;
    if (entry === undefined) {
      problems.push({
        code: "unknown-setting",
        where: { field: key },
        got: key,
        expected: "the name of a setting",
        remedy: "Remove it, or look up its name in the list of settings.",
      });
    } else if (typeof value !== "number" || !(value >= entry.low && value <= entry.high)) {
      problems.push({
        code: "setting-out-of-range",
        where: { field: key },
        got: String(value),
        expected: `${entry.low} to ${entry.high} ${entry.unit}`,
        remedy: `${entry.label}: choose a value in this range, or leave the default ${entry.default}.`,
      });
    } else {
      settings[key] = value;
    }
  }
  for (const [low, high] of orderedPairs) {
    if (settings[low]! > settings[high]!)
      problems.push({
        code: "settings-contradict",
        where: { field: low },
        got: `${low} ${settings[low]} above ${high} ${settings[high]}`,
        expected: `${low} at most ${high}`,
        remedy: `Lower "${settingTable[low].label}" or raise "${settingTable[high].label}".`,
      });
  }
  return problems.length > 0 ? { ok: false, problems } : succeed(settings as AdviceSettings);
}

const orderedPairs: readonly (readonly [SettingKey, SettingKey])[] = [
  ["commonBandLowSpm", "commonBandHighSpm"],
  ["carefulRiseShare", "greatestRiseShare"],
  ["sessionMinutesStart", "sessionMinutesEnd"],
  ["raceEasingDays", "raceQuietDays"],
  ["painStartLimit", "painEaseLimit"],
  ["painEaseLimit", "painReferLimit"],
  ["inBandEaseShare", "inBandMoveOnShare"],
];
