// From a walk to dated sessions: minutes grow (P3), the beat fades (P4), a new stage is learned standing still (P5).
import { makeSession } from "../session/make-session.ts";
import type { Session, SessionBlock } from "../session/session.ts";
import { starterTemplates } from "../session/starter-templates.ts";
import type { SessionTemplate } from "../session/template.ts";
import { SECONDS_PER_MINUTE } from "../quantities/units.ts";
import { oneThingAtATime, recallMonths } from "../evidence/plans.ts";
import { rungRateSpm } from "./next-rung.ts";
import { addDays, addMonths, inRange } from "./calendar.ts";
import type { PlannedSession, PlanStage } from "./plan.ts";
import type { Resolved } from "./resolve-request.ts";
import { cueShareOf, minutesOf } from "./schedule.ts";
import type { Walk, WalkedDay, WalkedStage } from "./walk.ts";

/** Sessions already behind, for the growth of minutes and the fading to go on from. */
export interface Behind {
  readonly stageCount: number;
  readonly cuedCount: number;
}

export function layOutStages(resolved: Resolved, walk: Walk, behind: Behind): PlanStage[] {
  const total = behind.cuedCount + countBeatSessions(walk.stages.map(({ rung, days }) => ({ rung, sessions: days })));
  let index = behind.cuedCount;
  return walk.stages.map((stage, place) => {
    const sessions = stage.days.map((day) => {
      const planned = cuedSession(resolved, stage, day, index, total);
      if (stage.rung >= 0) index += 1;
      return planned;
    });
    return {
      index: behind.stageCount + place,
      rung: stage.rung,
      kind: stage.kind,
      stepRateSpm: rungRateSpm(resolved, stage.rung),
      startsOn: stage.startsOn,
      endsOn: stage.endsOn,
      sessions,
      ...(stage.kind === "step-up" ? { loadFrozenUntil: addDays(stage.startsOn, oneThingAtATime.value - 1) } : {}),
    };
  });
}

/** Sessions that count for the growth of minutes and the fading: a week at the baseline, without the beat, does not. */
export function countBeatSessions(
  stages: readonly { readonly rung: number; readonly sessions: readonly unknown[] }[],
): number {
  return stages.reduce((count, stage) => count + (stage.rung < 0 ? 0 : stage.sessions.length), 0);
}

function cuedSession(
  resolved: Resolved,
  stage: WalkedStage,
  day: WalkedDay,
  index: number,
  total: number,
): PlannedSession {
  const { settings } = resolved;
  const fullMinutes = minutesOf(resolved.minutes, index, total);
  const minutes = day.easing ? fullMinutes * settings.raceEasingShare : fullMinutes;
  // A new target is first met with the beat on all the way, however far the fading has come.
  const learnsAnew = day.firstOfStage && stage.kind === "step-up" && resolved.protocol === undefined;
  const cueShare = stage.rung < 0 ? 0 : learnsAnew ? 1 : cueShareOf(resolved.cue, index, total);
  const template = day.place === "group" ? (resolved.groupTemplate ?? resolved.template) : resolved.template;
  return beatSession(resolved, { ...day, rung: stage.rung, minutes, cueShare, template });
}

export interface SessionWish extends Omit<WalkedDay, "rung"> {
  readonly rung: number;
  /** Of the main part. */
  readonly minutes: number;
  readonly cueShare: number;
  readonly template: SessionTemplate;
}

/** One session of a rung, as wished. At the baseline it is always the plain run without a beat. */
export function beatSession(resolved: Resolved, wish: SessionWish): PlannedSession {
  const { rung, minutes, date, place, firstOfStage, easing } = wish;
  const cueShare = rung < 0 ? 0 : wish.cueShare;
  // A coach's template with a beat in its blocks would still play at the baseline: the plain run has none there.
  const template = rung < 0 ? starterTemplates.beatRun : wish.template;
  const session = makeSession(
    {
      id: date,
      targetSpm: rungRateSpm(resolved, rung),
      previousSpm: rungRateSpm(resolved, rung - 1),
      baselineSpm: resolved.baselineSpm,
      ...(resolved.speedMps === null ? {} : { speedMps: resolved.speedMps }),
      mainMinutes: minutes,
      cueShare,
      firstOfStage,
      ...(resolved.units === undefined ? {} : { units: resolved.units }),
    },
    template,
  );
  const ran = runMinutes(session);
  // A template of fixed blocks, without a main part, says by itself how long it is.
  const ownLength = !template.steps.some((step) => step.step === "main");
  return {
    date,
    kind: "cued",
    place,
    session,
    mainMinutes: ownLength ? ran.onMinutes + ran.offMinutes : minutes,
    cueShare: ownLength ? ran.onMinutes / Math.max(ran.onMinutes + ran.offMinutes, Number.MIN_VALUE) : cueShare,
    cuedMinutes: ownLength ? ran.onMinutes : minutes * cueShare,
    firstOfStage,
    easing,
  };
}

/** Minutes of running with and without the beat. A distance without a speed counts as nothing. */
function runMinutes(session: Session): { readonly onMinutes: number; readonly offMinutes: number } {
  const minutes = (block: SessionBlock): number =>
    (block.durationS ??
      (block.distanceM !== undefined && block.speedMps !== undefined ? block.distanceM / block.speedMps : 0)) /
    SECONDS_PER_MINUTE;
  const sum = (kind: SessionBlock["kind"]): number =>
    session.blocks.filter((block) => block.kind === kind).reduce((total, block) => total + minutes(block), 0);
  return { onMinutes: sum("cue-on"), offMinutes: sum("cue-off") };
}

/** P10: checks with the beat off, months after the last session; moved on past away days and the race. */
export function layOutRecall(resolved: Resolved, lastDate: string): PlannedSession[] {
  const template: SessionTemplate = starterTemplates.recallCheck;
  return recallMonths.value.map((months) => {
    let date = addMonths(lastDate, months);
    while (resolved.calendar.away.some((range) => inRange(date, range)) || date === resolved.calendar.raceDate)
      date = addDays(date, 1);
    const session = makeSession(
      {
        id: date,
        title: `Recall check after ${months} month${months === 1 ? "" : "s"}`,
        targetSpm: resolved.rungsSpm.at(-1) ?? resolved.baselineSpm,
        ...(resolved.speedMps === null ? {} : { speedMps: resolved.speedMps }),
        mainMinutes: 1,
        cueShare: 0,
      },
      template,
    );
    const { offMinutes } = runMinutes(session);
    return {
      date,
      kind: "recall-check",
      place: "own",
      session,
      mainMinutes: offMinutes,
      cueShare: 0,
      cuedMinutes: 0,
      firstOfStage: false,
      easing: false,
    };
  });
}
