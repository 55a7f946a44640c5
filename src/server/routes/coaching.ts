// Plans changed by hand, templates, drills.
import type { coachingRoutes } from "../../api/routes/coaching.ts";
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import {
  changeGroupCalendar,
  changeRunnerCalendar,
  changeRunnerRung,
  changeRunnerSession,
} from "../use-cases/plan-changes.ts";
import { presentPractice, readPractice, removePiece, saveDrill, saveTemplate } from "../use-cases/practice.ts";

export function coachingHandlers(deps: Deps): Handlers<keyof typeof coachingRoutes> {
  return {
    "PUT /api/runners/:runnerId/plan/calendar": ({ caller, params, body }) =>
      changeRunnerCalendar(deps, caller, params.runnerId, body),
    "PUT /api/groups/:groupId/plans/calendar": ({ caller }) => changeGroupCalendar(deps, caller),
    "PUT /api/runners/:runnerId/plan/sessions/:on": ({ caller, params, body }) =>
      changeRunnerSession(deps, caller, params.runnerId, params.on, body),
    "PUT /api/runners/:runnerId/plan/rungs/:rung": ({ caller, params, body }) =>
      changeRunnerRung(deps, caller, params.runnerId, Number(params.rung), body),
    "GET /api/groups/:groupId/practice": async ({ params }) =>
      presentPractice(await readPractice(deps.store.db, params.groupId)),
    "PUT /api/groups/:groupId/templates/:templateId": ({ caller, params, body }) =>
      saveTemplate(deps, caller, params.templateId, body),
    "DELETE /api/groups/:groupId/templates/:templateId": ({ caller, params }) =>
      removePiece(deps, caller, "template", params.templateId),
    "PUT /api/groups/:groupId/drills/:drillId": ({ caller, params, body }) =>
      saveDrill(deps, caller, params.drillId, body),
    "DELETE /api/groups/:groupId/drills/:drillId": ({ caller, params }) =>
      removePiece(deps, caller, "drill", params.drillId),
    "GET /api/speech": async () => ({ present: (await deps.speech?.()) !== undefined }),
  };
}
