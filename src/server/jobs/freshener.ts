// Computes in quiet moments what was written about, so that a coach who looks need not wait for it.
import type { Deps } from "../app/deps.ts";
import { freshenRunners } from "../use-cases/runner-state.ts";

const PAGE = 50;

export interface Freshener {
  /** Freshens every runner that is stale now, unless recordings wait to be read again: those make them stale again. */
  freshenAll(): Promise<void>;
  stop(): Promise<void>;
}

export function createFreshener(deps: Deps, options: { readonly lookEveryMs?: number } = {}): Freshener {
  let running: Promise<void> | undefined;
  let stopped = false;

  const work = async (): Promise<void> => {
    for (let after: string | undefined = ""; after !== undefined && !stopped; ) {
      if (await isReadingAgain(deps)) return;
      const runnerIds = await staleAfter(deps, after);
      after = runnerIds.length === PAGE ? runnerIds.at(-1) : undefined;
      for (const runnerId of runnerIds) {
        if (stopped) return;
        // One that cannot be computed must not keep the others from it.
        await freshenRunners(deps, [runnerId]).catch((error: unknown) =>
          deps.log.error("a state cannot be computed", { error }),
        );
      }
    }
  };
  const freshenAll = (): Promise<void> =>
    (running ??= work().finally(() => {
      running = undefined;
    }));
  const look = (): void => {
    freshenAll().catch((error: unknown) => deps.log.error("stale states cannot be looked for", { error }));
  };
  const timer = options.lookEveryMs === undefined ? undefined : setInterval(look, options.lookEveryMs);
  timer?.unref();
  return {
    freshenAll,
    async stop() {
      stopped = true;
      clearInterval(timer);
      await running?.catch(() => undefined);
    },
  };
}

async function isReadingAgain(deps: Deps): Promise<boolean> {
  const job = await deps.store.db
    .selectFrom("job")
    .select("id")
    .where("kind", "in", ["analyse", "find-outdated"])
    .where("runAfter", "<=", deps.clock.now().toISOString())
    .limit(1)
    .executeTakeFirst();
  return job !== undefined;
}

async function staleAfter(deps: Deps, after: string): Promise<string[]> {
  const rows = await deps.store.db
    .selectFrom("runnerState")
    .select("runnerId")
    .whereRef("computedFor", "!=", "dataVersion")
    .where("runnerId", ">", after)
    .orderBy("runnerId")
    .limit(PAGE)
    .execute();
  return rows.map((row) => row.runnerId);
}
