// What a coach may change by hand in a running plan: one session, or the target of a stage that has not begun.
import { fail, type Problem, type Result, succeed } from "../quantities/problem.ts";
import { plain } from "../target/reason.ts";
import { stageGridSpm } from "../evidence/plans.ts";
import type { SessionTemplate } from "../session/template.ts";
import { rungOn } from "./adapt-plan.ts";
import { isPlainDate } from "./calendar.ts";
import { changeCalendar } from "./change-calendar.ts";
import { beatSession } from "./lay-out.ts";
import type { Plan, PlainDateText, PlanStage, SessionEdit } from "./plan.ts";
import { resolveRequest, type Resolved } from "./resolve-request.ts";
import { dayIsOpen, inOrder, withEdits, wishOf } from "./session-edits.ts";

export interface SessionChange {
  readonly moveTo?: PlainDateText;
  readonly skipped?: boolean;
  readonly mainMinutes?: number;
  readonly cueShare?: number;
  readonly template?: SessionTemplate;
}

const SHORTEST_MIN = 5;
const LONGEST_MIN = 90;

/**
 * The plan with one session changed: moved inside its stage, taken out, longer or shorter, with more or less beat, or on
 * another template. `date` is the day it lies on now, or, to change a session taken out, was laid on; `on` is today. What is not given keeps
 * what the coach set before; `null` takes all of the coach's changes of that session back. Refused: a session that is
 * over, a day outside the stage or taken, and in the first week of a new stage more minutes than were laid (P7).
 */
export function editSession(
  plan: Plan,
  date: PlainDateText,
  change: SessionChange | null,
  on: PlainDateText,
): Result<Plan> {
  if (plan.status === "stopped") return fail(STOPPED);
  const resolution = resolveRequest(plan.request);
  if (!resolution.ok) return resolution;
  const resolved = resolution.value;
  const edits = plan.request.sessionEdits ?? [];
  const shown = plan.stages.flatMap((stage) => stage.sessions).find((session) => session.date === date);
  const before = edits.find((edit) => edit.on === (shown?.editedFrom ?? date));
  const laid = before?.laid ?? shown;
  const stage = plan.stages.find((entry) => entry.startsOn <= date && date <= entry.endsOn);
  if (laid === undefined || stage === undefined || (shown === undefined && before?.skipped !== true))
    return fail(problem("session-unknown", "date", date, "a day with a session", "Look at the plan again."));
  if (date < on)
    return fail(problem("session-over", "date", date, `a session from ${on} on`, "What is over stays as it was."));
  if (change === null) {
    const kept = edits.filter((edit) => edit !== before);
    return withoutClash(put(plan, stage, date, laid, kept, resolved), laid.date);
  }
  const edit: SessionEdit = { ...(before ?? { on: laid.date, laid }), ...change };
  const problems = changeWrong(plan, stage, edit, date, on, resolved);
  if (problems.length > 0) return { ok: false, problems };
  const kept = [...edits.filter((entry) => entry !== before), edit];
  return withoutClash(put(plan, stage, date, laid, kept, resolved), edit.moveTo ?? laid.date);
}

/** A session put back must not land on a day that another took meanwhile. */
function withoutClash(plan: Plan, date: PlainDateText): Result<Plan> {
  const there = plan.stages.flatMap((stage) => stage.sessions).filter((session) => session.date === date);
  if (there.length < 2) return succeed(plan);
  return fail(problem("session-day-taken", "date", date, "a free day", "Move the other session away first."));
}

/** Lays the session of `date` again from `laid` and the edits; everything else stays. */
function put(
  plan: Plan,
  stage: PlanStage,
  date: PlainDateText,
  laid: PlanStage["sessions"][number],
  sessionEdits: readonly SessionEdit[],
  resolved: Resolved,
): Plan {
  const others = stage.sessions.filter((session) => session.date !== date);
  // The plan may have been laid again since: the target is today's.
  const fresh = beatSession(resolved, wishOf(laid, stage, resolved));
  const begins = [...stage.sessions, laid].some((session) => session.firstOfStage);
  const [edited] = withEdits([{ ...stage, sessions: [...others, fresh] }], resolved, sessionEdits);
  const sessions = inOrder(edited?.sessions ?? [], begins, stage, resolved);
  const stages = plan.stages.map((entry) => (entry.index === stage.index ? { ...stage, sessions } : entry));
  const all = stages.flatMap((entry) => entry.sessions);
  return {
    ...plan,
    request: { ...plan.request, sessionEdits },
    stages,
    totalMinutes: all.reduce((sum, session) => sum + session.mainMinutes, 0),
    totalCuedMinutes: all.reduce((sum, session) => sum + session.cuedMinutes, 0),
  };
}

function changeWrong(
  plan: Plan,
  stage: PlanStage,
  edit: SessionEdit,
  date: PlainDateText,
  on: PlainDateText,
  resolved: Resolved,
): Problem[] {
  const problems: Problem[] = [];
  const { moveTo, mainMinutes, cueShare, laid } = edit;
  if (moveTo !== undefined && moveTo !== date) {
    const taken = plan.stages.some((entry) => entry.sessions.some((session) => session.date === moveTo));
    if (!isPlainDate(moveTo) || moveTo < on || taken || !dayIsOpen(moveTo, stage, resolved))
      problems.push(
        problem(
          "session-day-taken",
          "moveTo",
          moveTo,
          `a free day of this stage, ${stage.startsOn} to ${stage.endsOn}`,
          "Choose another day, or change the calendar.",
        ),
      );
  }
  if (mainMinutes !== undefined && !(mainMinutes >= SHORTEST_MIN && mainMinutes <= LONGEST_MIN))
    problems.push(
      problem(
        "minutes-out-of-range",
        "mainMinutes",
        String(mainMinutes),
        `${SHORTEST_MIN} to ${LONGEST_MIN} minutes`,
        "Change the minutes.",
      ),
    );
  const frozen = stage.loadFrozenUntil !== undefined && (moveTo ?? date) <= stage.loadFrozenUntil;
  if (frozen && mainMinutes !== undefined && mainMinutes > laid.mainMinutes + 1e-9)
    problems.push(
      problem(
        "load-frozen",
        "mainMinutes",
        `${plain(mainMinutes)} minutes`,
        `at most ${plain(laid.mainMinutes)} until ${stage.loadFrozenUntil} (P7)`,
        "One thing at a time: lengthen a session in a week without a new step.",
      ),
    );
  if (cueShare !== undefined && !(cueShare >= 0 && cueShare <= 1))
    problems.push(
      problem("cue-share-out-of-range", "cueShare", String(cueShare), "0 to 1", "Give a share of the main part."),
    );
  return problems;
}

/**
 * The plan with another target for a stage that has not begun; the stages after it keep their steps and move along, up
 * to the cap. Both feet, on a grid of half a step. A step is never larger than the rules allow (P1, T5). From the next
 * week on the plan is laid again.
 */
export function editRung(plan: Plan, rung: number, stepRateSpm: number, on: PlainDateText): Result<Plan> {
  if (plan.status === "stopped") return fail(STOPPED);
  const { proposal, protocolId } = plan.request;
  const resolution = resolveRequest(plan.request);
  if (!resolution.ok) return resolution;
  const { settings, rungsSpm, baselineSpm, capSpm } = resolution.value;
  const now = rungsSpm[rung];
  if (protocolId !== undefined || now === undefined || rung <= rungOn(plan, on))
    return fail(
      problem(
        "stage-fixed",
        "rung",
        String(rung + 1),
        protocolId === undefined ? "a stage that has not begun" : "a plan of small steps, not of a study",
        "Decide about a running stage in the week's list, or make the plan anew.",
      ),
    );
  const previous = rungsSpm[rung - 1] ?? baselineSpm;
  const largest = proposal.careful
    ? settings.stageStepSpm * settings.carefulStageShare
    : baselineSpm * settings.stageShareMax;
  const highest = Math.min(capSpm, previous + largest);
  const onGrid = Math.abs(stepRateSpm / stageGridSpm.value - Math.round(stepRateSpm / stageGridSpm.value)) < 1e-9;
  if (!(stepRateSpm > previous && stepRateSpm <= highest + 1e-9 && onGrid))
    return fail(
      problem(
        "stage-step",
        "stepRateSpm",
        `${plain(stepRateSpm)} spm`,
        `above ${plain(previous)}, up to ${plain(Math.floor(highest / stageGridSpm.value) * stageGridSpm.value)} spm in half steps (${proposal.careful ? "T5" : "P1"})`,
        "Choose a smaller step.",
      ),
    );
  const shifted = rungsSpm.map((rate, index) => (index < rung ? rate : rate + stepRateSpm - now));
  const stages = shifted.filter((rate) => rate <= capSpm + 1e-9);
  const aimSpm = stages.at(-1) ?? proposal.aimSpm;
  return changeCalendar(plan, { proposal: { ...proposal, stages, aimSpm } }, on);
}

const STOPPED = problem("plan-stopped", "plan", "a stopped plan", "a running plan", "Clear the runner first.");

function problem(code: string, field: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: { field }, got, expected, remedy };
}
