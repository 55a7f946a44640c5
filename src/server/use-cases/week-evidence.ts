// What a runner's week says, in the engine's words: evidence for the decision rules from runs, counts, pain and reports.
import type { Selectable } from "kysely";
import { stageOn } from "./plan-row.ts";
import { addDays, daysBetween } from "../../engine/plan/calendar.ts";
import type { PlanOutline } from "../../engine/plan/plan-outline.ts";
import type { PainPlace, WeekEvidence } from "../../engine/plan/week-evidence.ts";
import type { RedFlag } from "../../engine/target/red-flags.ts";
import type { Database } from "../../store/index.ts";
import { carryOverShare } from "../analysis/carry-over.ts";
import type { WeekState } from "../analysis/runner-state.ts";
import { dayOf } from "./dates.ts";
import { json } from "./present.ts";

type WeekRun = WeekState["runs"][number];

export interface WeekFacts {
  readonly plan: PlanOutline;
  readonly state: Pick<WeekState, "runs" | "referenceSpeedMps">;
  readonly weekStartsOn: string;
  readonly timeZone: string;
  /** Of this week. */
  readonly pain: readonly Selectable<Database["pain"]>[];
  readonly counts: readonly Selectable<Database["footCount"]>[];
  /** Reports of a session done, by day. */
  readonly doneDays: readonly string[];
}

const PLACES: readonly PainPlace[] = ["calf", "achilles", "shin", "foot", "knee", "hip", "back"];

export function weekEvidence(facts: WeekFacts): WeekEvidence {
  const { plan, state, weekStartsOn } = facts;
  const nextWeekOn = addDays(weekStartsOn, 7);
  const inWeek = (day: string): boolean => day >= weekStartsOn && day < nextWeekOn;
  const dated = state.runs.flatMap((run) => {
    const day = run.startedAt === null ? null : dayOf(run.startedAt, facts.timeZone);
    return day === null || run.phase === "before" ? [] : [{ run, day }];
  });
  const week = dated.filter((entry) => inWeek(entry.day)).map((entry) => entry.run);
  const lastDay = addDays(nextWeekOn, -1);
  const stage = stageOn(plan, lastDay);
  const stageFrom = stage?.startsOn ?? weekStartsOn;
  const ofStage = dated.filter((entry) => entry.day >= stageFrom && entry.day < nextWeekOn);
  const cued = ofStage.filter((entry) => entry.run.inBandShare !== null);
  const sessions = plan.stages.flatMap((entry) => entry.sessions);
  const doneOn = new Set([
    ...facts.doneDays,
    ...dated.filter((entry) => entry.run.phase === "during").map((entry) => entry.day),
  ]);
  const doneIn = (from: string): number => [...doneOn].filter((day) => day >= from && day < nextWeekOn).length;
  const monthAgo = addDays(weekStartsOn, -30);
  const before30 = dated.filter((entry) => entry.day < weekStartsOn && entry.day >= monthAgo);
  const pain = worstPain(facts.pain);
  return {
    ...(pain === undefined ? {} : { pain }),
    calfAchillesAsked: facts.pain.some(asksCalfAchilles),
    sessionsPlanned: sessions.filter((entry) => inWeek(entry.date)).length,
    sessionsDone: doneIn(weekStartsOn),
    stageSessionsDone: doneIn(stageFrom),
    stageDaysDone: Math.max(0, daysBetween(stageFrom, nextWeekOn)),
    missedWeeksInRow: missedWeeks(
      sessions.map((entry) => entry.date),
      doneOn,
      weekStartsOn,
    ),
    cuedSessions: cued.map((entry) => ({ inBandShare: entry.run.inBandShare ?? 0 })),
    measuredThisWeek: cued.filter((entry) => inWeek(entry.day)).length,
    otherMeasured: facts.counts.length > 0 || week.some((run) => run.inBandShare === null || run.cueOffSpm !== null),
    ...optional("speedChangeShare", speedChange(week, plan.speedMps ?? state.referenceSpeedMps)),
    ...optional("lateDropShare", mean(week.map(dropShare))),
    ...optional("usualLateDropShare", usualDrop(state)),
    ...optional("carryOverShare", mean(week.map((run) => carryOverShare(run, plan.baselineSpm)))),
    ...optional("longestRunM", longest(week)),
    ...optional("longestBefore30DaysM", longest(before30.map((entry) => entry.run))),
  };
}

/** Share of the time with the beat in which it was held, over the week's runs; null without any. */
export function inBandOfWeek(evidence: WeekEvidence): number | null {
  const count = evidence.measuredThisWeek ?? 0;
  return count === 0 ? null : mean(evidence.cuedSessions.slice(-count).map((entry) => entry.inBandShare));
}

/** Rule T5: what was said names calf or Achilles, sore or not. */
export function asksCalfAchilles(row: { readonly place: string }): boolean {
  return /calf|achilles/i.test(row.place);
}

function worstPain(rows: WeekFacts["pain"]): WeekEvidence["pain"] {
  const worst = [...rows].sort((a, b) => b.score - a.score)[0];
  if (worst === undefined) return undefined;
  const place = PLACES.find((name) => worst.place.toLowerCase().includes(name));
  const redFlags = [...new Set(rows.flatMap((row) => json<RedFlag[]>(row.signsJson)))];
  return {
    worst0to10: worst.score,
    ...(worst.place === "" ? {} : { where: place ?? "elsewhere" }),
    ...(redFlags.length === 0 ? {} : { redFlags }),
  };
}

/** Weeks in a row, up to and with this one, that had sessions planned and none done. */
function missedWeeks(planned: readonly string[], done: ReadonlySet<string>, weekStartsOn: string): number {
  let missed = 0;
  for (let from = weekStartsOn; missed < 52; from = addDays(from, -7)) {
    const to = addDays(from, 7);
    const within = (day: string): boolean => day >= from && day < to;
    if (!planned.some(within) || [...done].some(within)) return missed;
    missed += 1;
  }
  return missed;
}

function speedChange(week: readonly WeekRun[], planSpeedMps: number | null): number | null {
  const speed = mean(week.map((run) => run.cuedSpeedMps));
  return speed === null || planSpeedMps === null ? null : speed / planSpeedMps - 1;
}

function dropShare(run: WeekRun): number | null {
  return run.lateRunDropSpm === null ? null : -run.lateRunDropSpm.estimate / run.stepRateSpm;
}

/** Mean of the runs before the change, plus what measuring alone can make of it (two standard errors). */
function usualDrop(state: WeekFacts["state"]): number | null {
  const before = state.runs.filter((run) => run.phase === "before");
  return mean(
    before.map((run) =>
      run.lateRunDropSpm === null
        ? null
        : (2 * run.lateRunDropSpm.standardError - run.lateRunDropSpm.estimate) / run.stepRateSpm,
    ),
  );
}

function longest(runs: readonly WeekRun[]): number | null {
  const distances = runs.flatMap((run) => (run.distanceM === null ? [] : [run.distanceM]));
  return distances.length === 0 ? null : Math.max(...distances);
}

function mean(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}

function optional<K extends keyof WeekEvidence>(key: K, value: number | null): { [P in K]?: number } {
  return value === null ? {} : ({ [key]: value } as { [P in K]: number });
}
