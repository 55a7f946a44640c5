// Changes of running plans by hand: calendar, one session, one stage. Each is one tracked change that can be undone.
import type { CallInput, CalendarChange, SessionEdit } from "../../api/index.ts";
import { changeCalendar } from "../../engine/plan/change-calendar.ts";
import { editRung, editSession } from "../../engine/plan/edit-plan.ts";
import type { Plan, PlanRequest } from "../../engine/plan/plan.ts";
import type { Result } from "../../engine/quantities/problem.ts";
import { GroupReader, RunnerReader, WeekReader } from "../../store/index.ts";
import type { MemberOf } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { eveningOf, holidaysOf } from "./accept-proposal.ts";
import { today } from "./dates.ts";
import { planRow, presentPlan } from "./plan-row.ts";
import { type KnownPractice, readPractice, templateOf } from "./practice.ts";
import { json } from "./present.ts";
import { adviceSettings, readSettings, unitsOf } from "./settings.ts";
import { writeChange } from "./write-change.ts";

type RungEdit = CallInput<"PUT /api/runners/:runnerId/plan/rungs/:rung">["body"];

async function changePlan(
  deps: Deps,
  caller: MemberOf,
  runnerId: string,
  what: string,
  change: (plan: Plan, day: string, practice: KnownPractice) => Result<Plan>,
) {
  const group = await new GroupReader(deps.store.db).row(caller.groupId);
  if (group === undefined) throw notFound("group");
  const practice = await readPractice(deps.store.db, caller.groupId);
  const day = today(deps.clock, group.timeZone);
  const { value, changeId } = await writeChange(deps, caller, what, async (write) => {
    const row = await new RunnerReader(write.trx).plan(runnerId);
    if (row === undefined) throw new Refusal(409, "no-plan", "There is no plan yet. Accept a proposal first.");
    const changed = change(json<Plan>(row.planJson), day, practice);
    if (!changed.ok) throw unusable("The plan cannot be changed like this.", changed.problems);
    await write.put("plan", planRow(runnerId, changed.value, day, instant(deps.clock)));
    return changed.value;
  });
  return { item: presentPlan(value, day), changeId };
}

export function changeRunnerCalendar(deps: Deps, caller: MemberOf, runnerId: string, wish: CalendarChange) {
  return changePlan(deps, caller, runnerId, "calendar of a plan changed", (plan, day, practice) => {
    const { raceDate, groupWeekday, templateId, groupTemplateId, ...rest } = wish;
    const cleared = {
      ...plan,
      request: without(plan.request, [
        ...(raceDate === null ? (["raceDate"] as const) : []),
        ...(groupWeekday === null ? (["groupWeekday"] as const) : []),
        ...(groupTemplateId === null ? (["groupTemplate"] as const) : []),
      ]),
    };
    return changeCalendar(
      cleared,
      {
        ...rest,
        ...(typeof raceDate === "string" ? { raceDate } : {}),
        ...(typeof groupWeekday === "number" ? { groupWeekday } : {}),
        ...(templateId === undefined ? {} : { template: templateOf(practice, templateId) }),
        ...(typeof groupTemplateId === "string" ? { groupTemplate: templateOf(practice, groupTemplateId) } : {}),
      },
      day,
    );
  });
}

export function changeRunnerSession(deps: Deps, caller: MemberOf, runnerId: string, on: string, wish: SessionEdit) {
  return changePlan(deps, caller, runnerId, "session changed", (plan, day, practice) => {
    const { reset, templateId, ...rest } = wish;
    const template = templateId === undefined ? {} : { template: templateOf(practice, templateId) };
    return editSession(plan, on, reset === true ? null : { ...rest, ...template }, day);
  });
}

export function changeRunnerRung(deps: Deps, caller: MemberOf, runnerId: string, rung: number, wish: RungEdit) {
  return changePlan(deps, caller, runnerId, "stage changed", (plan, day) =>
    editRung(plan, rung, wish.stepRateSpm, day),
  );
}

/** Every running plan onto the group's present evening, holidays, race and settings. */
export async function changeGroupCalendar(deps: Deps, caller: MemberOf) {
  const group = await new GroupReader(deps.store.db).row(caller.groupId);
  if (group === undefined) throw notFound("group");
  const day = today(deps.clock, group.timeZone);
  const settings = readSettings(group.settingsJson);
  const changed: string[] = [];
  const skipped: { runnerId: string; name: string; because: string }[] = [];
  const { changeId } = await writeChange(deps, caller, "plans moved to the group's calendar", async (write) => {
    changed.length = 0;
    skipped.length = 0;
    for (const runner of await new WeekReader(write.trx).runners(caller.groupId)) {
      const plan = runner.planJson === null ? null : json<Plan>(runner.planJson);
      if (plan === null || plan.status === "stopped") continue;
      const raceDate = runner.raceDate ?? group.raceDate;
      const groupWeekday = eveningOf(runner, group);
      const moved = changeCalendar(
        { ...plan, request: without(plan.request, ["raceDate", "groupWeekday"]) },
        {
          groupAway: holidaysOf(group),
          settings: adviceSettings(settings),
          units: unitsOf(settings),
          ...(raceDate === null || raceDate < plan.request.startDate ? {} : { raceDate }),
          ...(groupWeekday === null ? {} : { groupWeekday }),
        },
        day,
      );
      if (!moved.ok) {
        const because = moved.problems.map((problem) => problem.remedy).join(" ");
        skipped.push({ runnerId: runner.id, name: runner.name, because });
      } else if (JSON.stringify(moved.value) !== runner.planJson) {
        await write.put("plan", planRow(runner.id, moved.value, day, instant(deps.clock)));
        changed.push(runner.id);
      }
    }
  });
  return { changed, skipped, changeId };
}

function without(request: PlanRequest, fields: readonly (keyof PlanRequest)[]): PlanRequest {
  return Object.fromEntries(
    Object.entries(request).filter(([field]) => !fields.includes(field as keyof PlanRequest)),
  ) as unknown as PlanRequest;
}
