// Deleting wholly: a person, or a group. What remains is the audit's line that it happened.
import { sql } from "kysely";
import { tablesOfRunner } from "../schema/tables.ts";
import { assertTransaction, type Writing } from "../transaction.ts";

export type ErasedCounts = Readonly<Record<string, number>>;

export async function eraseRunner(trx: Writing, runnerId: string): Promise<ErasedCounts> {
  assertTransaction(trx);
  return eraseRunners(trx, [runnerId]);
}

export async function eraseGroup(trx: Writing, groupId: string): Promise<ErasedCounts> {
  assertTransaction(trx);
  const runners = await trx.selectFrom("runner").select("id").where("groupId", "=", groupId).execute();
  const counts: Record<string, number> = await eraseRunners(
    trx,
    runners.map((runner) => runner.id),
  );
  const changes = trx.selectFrom("change").select("id").where("groupId", "=", groupId);
  counts["changeRow"] =
    (counts["changeRow"] ?? 0) + affected(await trx.deleteFrom("changeRow").where("changeId", "in", changes).execute());
  counts["change"] = affected(await trx.deleteFrom("change").where("groupId", "=", groupId).execute());
  for (const table of ["practicePiece", "calendarFeed"] as const)
    counts[table] =
      (counts[table] ?? 0) + affected(await trx.deleteFrom(table).where("groupId", "=", groupId).execute());
  counts["member"] = affected(await trx.deleteFrom("member").where("groupId", "=", groupId).execute());
  counts["coachGroup"] = affected(await trx.deleteFrom("coachGroup").where("id", "=", groupId).execute());
  return counts;
}

async function eraseRunners(trx: Writing, runnerIds: readonly string[]): Promise<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (let start = 0; start < runnerIds.length; start += 200) {
    const ids = runnerIds.slice(start, start + 200);
    const add = (table: string, count: number): void => {
      counts[table] = (counts[table] ?? 0) + count;
    };
    // Recordings that were removed but can still be undone have bytes and no row: the history knows their ids.
    const recordingIds = sql<string>`(select ${sql.ref("id")} from ${sql.table("recording")} where ${sql.ref("runnerId")} in (${sql.join(ids)}) union select ${sql.ref("rowId")} from ${sql.table("changeRow")} where ${sql.ref("tableName")} = 'recording' and ${sql.ref("runnerId")} in (${sql.join(ids)}))`;
    for (const table of ["recordingChunk", "analysis"] as const)
      add(table, affected(await trx.deleteFrom(table).where("recordingId", "in", recordingIds).execute()));
    for (const table of tablesOfRunner)
      add(table, affected(await trx.deleteFrom(table).where("runnerId", "in", ids).execute()));
    add("changeRow", affected(await trx.deleteFrom("changeRow").where("runnerId", "in", ids).execute()));
    await trx.deleteFrom("change").where("runnerId", "in", ids).execute();
    add("runner", affected(await trx.deleteFrom("runner").where("id", "in", ids).execute()));
  }
  return counts;
}

function affected(results: readonly { readonly numDeletedRows: bigint }[]): number {
  return results.reduce((sum, result) => sum + Number(result.numDeletedRows), 0);
}
