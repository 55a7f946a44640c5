// What was computed of a runner no longer holds once anything about them was written.
import { assertTransaction, type Writing } from "../transaction.ts";

export async function markRunnersStale(trx: Writing, runnerIds: readonly string[]): Promise<void> {
  assertTransaction(trx);
  if (runnerIds.length === 0) return;
  const fresh = {
    dataVersion: 1,
    computedFor: 0,
    engineVersion: "",
    baselineSpm: null,
    finding: null,
    stateJson: null,
  };
  await trx
    .insertInto("runnerState")
    .values([...runnerIds].sort().map((runnerId) => ({ runnerId, ...fresh, computedAt: null })))
    .onConflict((conflict) =>
      conflict.column("runnerId").doUpdateSet((now) => ({
        dataVersion: now("runnerState.dataVersion", "+", 1),
      })),
    )
    .execute();
}

/** What another engine version computed, or what was kept without the part for lists, is to be computed again. */
export async function markOutdatedStates(trx: Writing, engineVersion: string): Promise<void> {
  assertTransaction(trx);
  await trx
    .updateTable("runnerState")
    .set((now) => ({ dataVersion: now("dataVersion", "+", 1) }))
    .where("computedFor", ">", 0)
    .whereRef("computedFor", "=", "dataVersion")
    .where((now) => now.or([now("engineVersion", "!=", engineVersion), now("weekJson", "is", null)]))
    .execute();
}
