// Every route of the server. A route that is not here does not exist; one that is here must have a handler and a row in
// the authorisation matrix.
import { accountRoutes } from "./accounts.ts";
import { coachingRoutes } from "./coaching.ts";
import { eveningRoutes } from "./evenings.ts";
import { groupRoutes } from "./groups.ts";
import { handOutRoutes } from "./hand-outs.ts";
import { operationRoutes } from "./operations.ts";
import { recordingRoutes } from "./recordings.ts";
import { runnerPageRoutes } from "./runner-page.ts";
import { runnerRoutes } from "./runners.ts";

export const routes = {
  ...accountRoutes,
  ...groupRoutes,
  ...runnerRoutes,
  ...recordingRoutes,
  ...eveningRoutes,
  ...coachingRoutes,
  ...handOutRoutes,
  ...runnerPageRoutes,
  ...operationRoutes,
};
export type Routes = typeof routes;
export type RouteKey = keyof Routes;
