import { Type } from "typebox";
import { Changed, savedOf } from "../schemas/common.ts";
import * as changes from "../schemas/plan-changes.ts";
import { PlanAnswer } from "../schemas/plans.ts";
import * as practice from "../schemas/practice.ts";
import { defineRoutes } from "./contract.ts";
import { GroupParams, RunnerParams } from "./params.ts";

export const coachingRoutes = defineRoutes({
  "PUT /api/runners/:runnerId/plan/calendar": {
    summary: "A late change of a running plan's calendar",
    description: "What lies behind stays; from the next week on the rest is laid again. Never faster for it.",
    tag: "Plans",
    access: "coach",
    params: RunnerParams,
    body: changes.CalendarChange,
    response: savedOf(PlanAnswer),
  },
  "PUT /api/groups/:groupId/plans/calendar": {
    summary: "Move all running plans to the group's present evening, holidays and race",
    description: "A runner's own race and away weeks stay their own. One change, undone as one.",
    tag: "Plans",
    access: "coach",
    params: GroupParams,
    response: changes.PlansChanged,
  },
  "PUT /api/runners/:runnerId/plan/sessions/:on": {
    summary: "Change one session",
    description: "Move, shorten, take out, another template. Kept when the plan is laid again.",
    tag: "Plans",
    access: "coach",
    params: changes.PlanSessionParams,
    body: changes.SessionEdit,
    response: savedOf(PlanAnswer),
  },
  "PUT /api/runners/:runnerId/plan/rungs/:rung": {
    summary: "Change the target of a stage that has not begun",
    description: "Stages after it move along. Never above the cap, never a larger step than the rules allow.",
    tag: "Plans",
    access: "coach",
    params: changes.RungParams,
    body: changes.RungEdit,
    response: savedOf(PlanAnswer),
  },
  "GET /api/groups/:groupId/practice": {
    summary: "Session templates and drills, those that come along first",
    tag: "Practice",
    access: "member",
    params: GroupParams,
    response: practice.Practice,
  },
  "PUT /api/groups/:groupId/templates/:templateId": {
    summary: "Save an own session template",
    description: "Plans already laid keep the sessions they have.",
    tag: "Practice",
    access: "coach",
    params: practice.TemplateParams,
    body: practice.TemplateInput,
    response: savedOf(practice.Template),
  },
  "DELETE /api/groups/:groupId/templates/:templateId": {
    summary: "Remove an own session template",
    tag: "Practice",
    access: "coach",
    params: practice.TemplateParams,
    response: Changed,
  },
  "PUT /api/groups/:groupId/drills/:drillId": {
    summary: "Save an own drill",
    tag: "Practice",
    access: "coach",
    params: practice.DrillParams,
    body: practice.DrillInput,
    response: savedOf(practice.Drill),
  },
  "DELETE /api/groups/:groupId/drills/:drillId": {
    summary: "Remove an own drill",
    description: "Refused (409) while one of the group's templates uses it.",
    tag: "Practice",
    access: "coach",
    params: practice.DrillParams,
    response: Changed,
  },
  "GET /api/speech": {
    summary: "Can announcements be spoken on this machine?",
    tag: "Beat",
    access: "signed-in",
    response: Type.Object({ present: Type.Boolean() }),
  },
});
