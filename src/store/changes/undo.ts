// Puts back what a change replaced, unless someone has changed it again since.
import type { TrackedTable } from "../schema/tables.ts";
import { isForeignKeyFailure, isUniqueFailure } from "../transaction.ts";
import { type AnyRow, readRow, sameRow, type TrackedWrite } from "./tracked-write.ts";

export type UndoOutcome =
  | { readonly kind: "undone"; readonly runnerIds: readonly string[] }
  | { readonly kind: "missing" }
  | { readonly kind: "already-undone" }
  /** Changed again since, or something else hangs on it now. The transaction must be given up. */
  | { readonly kind: "conflict" };

export async function undoChange(write: TrackedWrite, changeId: string): Promise<UndoOutcome> {
  const { trx, context } = write;
  const change = await trx
    .selectFrom("change")
    .selectAll()
    .where("id", "=", changeId)
    .where("groupId", "=", context.groupId)
    .executeTakeFirst();
  if (change === undefined) return { kind: "missing" };
  if (change.undoneBy !== null) return { kind: "already-undone" };
  const rows = await trx
    .selectFrom("changeRow")
    .selectAll()
    .where("changeId", "=", changeId)
    .orderBy("position", "desc")
    .execute();
  const runnerIds = new Set<string>();
  for (const row of rows) {
    const table = row.tableName as TrackedTable;
    const now = await readRow(trx, table, row.rowId);
    const after = parseRow(row.afterJson);
    const unchanged = now === null ? after === null : after !== null && sameRow(now, after);
    if (!unchanged) return { kind: "conflict" };
    try {
      const before = parseRow(row.beforeJson);
      if (before === null) await write.remove(table, row.rowId);
      else await write.put(table, before as never);
    } catch (error) {
      if (isForeignKeyFailure(error) || isUniqueFailure(error)) return { kind: "conflict" };
      throw error;
    }
    if (row.runnerId !== null) runnerIds.add(row.runnerId);
  }
  await trx.updateTable("change").set({ undoneBy: context.changeId }).where("id", "=", changeId).execute();
  return { kind: "undone", runnerIds: [...runnerIds] };
}

function parseRow(json: string | null): AnyRow | null {
  return json === null ? null : (JSON.parse(json) as AnyRow);
}
