// `spondee demo`: the invented group in a data folder, without a server.
import { createLocalAnalyst } from "../analysis/analyst.ts";
import { type Clock, systemClock } from "../app/clock.ts";
import { defaultPasswordCost, type Deps } from "../app/deps.ts";
import { ENGINE_VERSION } from "../operations/engine-version.ts";
import { silentLog } from "../operations/log.ts";
import { createMetrics } from "../operations/metrics.ts";
import { openServerStore } from "../start-server.ts";
import { seedDemo } from "./seed-first-run.ts";

/** True when the group was made, false when the folder has had it before. */
export async function seedDemoData(
  dataDir: string,
  options: { readonly databaseUrl?: string; readonly clock?: Clock } = {},
): Promise<boolean> {
  const clock = options.clock ?? systemClock;
  const store = await openServerStore(dataDir, options.databaseUrl, clock);
  try {
    const deps: Deps = {
      store,
      clock,
      analyst: createLocalAnalyst(ENGINE_VERSION),
      log: silentLog,
      metrics: createMetrics(),
      settings: {
        dataDir,
        allowedHosts: [],
        secureCookies: false,
        trustProxy: false,
        maxUploadBytes: 2 ** 27,
        requestsPerMinute: 1,
        passwordCost: defaultPasswordCost,
        keepBackups: 14,
        version: "0",
      },
      wakeJobs: () => undefined,
    };
    return await seedDemo(deps);
  } finally {
    await store.close();
  }
}
