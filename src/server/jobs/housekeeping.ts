// What a running server does by itself: look for outdated analyses at the start, tidy and back up once a day.
import { addJob, markOutdatedStates } from "../../store/index.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { askToSend } from "./send-mail.ts";
import { backupNow } from "../operations/backups.ts";

const HOUR_MS = 3_600_000;

/** Answers how to stop it. */
export async function startHousekeeping(deps: Deps): Promise<() => void> {
  const { store, analyst } = deps;
  await store.write(async (trx) => {
    // An SQLite file has one server: whatever is claimed at its start was claimed by one that died.
    if (store.kind === "sqlite") await trx.updateTable("job").set({ claimedBy: null, claimedUntil: null }).execute();
    await markOutdatedStates(trx, analyst.engineVersion);
    await addJob(trx, {
      id: freshId(deps.clock),
      jobKey: `find-outdated:${analyst.engineVersion}`,
      kind: "find-outdated",
      payload: { after: "" },
      at: instant(deps.clock),
    });
  });
  // Messages that waited when the last process ended.
  await askToSend(deps, instant(deps.clock), freshId(deps.clock));
  const daily = async (): Promise<void> => {
    const day = instant(deps.clock).slice(0, 10);
    const isNew = await store.write(async (trx) => {
      const last = await trx
        .selectFrom("installation")
        .select("value")
        .where("name", "=", "last-daily")
        .executeTakeFirst();
      if (last?.value === day) return false;
      await trx
        .insertInto("installation")
        .values({ name: "last-daily", value: day })
        .onConflict((conflict) => conflict.column("name").doUpdateSet({ value: day }))
        .execute();
      await addJob(trx, {
        id: freshId(deps.clock),
        jobKey: `tidy:${day}`,
        kind: "tidy",
        payload: null,
        at: instant(deps.clock),
      });
      return last !== undefined;
    });
    if (isNew) await backupNow(deps);
    deps.wakeJobs();
  };
  const run = (): void => {
    daily().catch((error: unknown) => deps.log.error("housekeeping failed", { error }));
  };
  await daily();
  const timer = setInterval(run, HOUR_MS);
  timer.unref();
  return () => clearInterval(timer);
}
