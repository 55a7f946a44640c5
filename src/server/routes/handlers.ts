// All handlers. The type makes sure that no route is without one.
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { accountHandlers } from "./accounts.ts";
import { coachingHandlers } from "./coaching.ts";
import { eveningHandlers } from "./evenings.ts";
import { groupHandlers } from "./groups.ts";
import { handOutHandlers } from "./hand-outs.ts";
import { operationHandlers } from "./operations.ts";
import { recordingHandlers } from "./recordings.ts";
import { runnerPageHandlers } from "./runner-page.ts";
import { runnerHandlers } from "./runners.ts";

export function createHandlers(deps: Deps): Handlers {
  return {
    ...accountHandlers(deps),
    ...groupHandlers(deps),
    ...runnerHandlers(deps),
    ...recordingHandlers(deps),
    ...eveningHandlers(deps),
    ...coachingHandlers(deps),
    ...handOutHandlers(deps),
    ...runnerPageHandlers(deps),
    ...operationHandlers(deps),
  };
}
