// Writes that are remembered: every row before and after, under one change, so that it can be read and undone.
import type { Insertable, Selectable, UpdateObject } from "kysely";
import type { Database } from "../schema/database.ts";
import type { TrackedTable } from "../schema/tables.ts";
import { assertTransaction, type Writing } from "../transaction.ts";
import { markRunnersStale } from "../writers/mark-stale.ts";

export interface ChangeContext {
  readonly changeId: string;
  readonly groupId: string;
  readonly at: string;
  readonly byAccountId: string | null;
  readonly byName: string;
  /** In plain words, without names: "count added". */
  readonly what: string;
  readonly undoOf?: string;
}

interface RowChange {
  readonly tableName: TrackedTable;
  readonly rowId: string;
  readonly runnerId: string | null;
  readonly before: AnyRow | null;
  readonly after: AnyRow | null;
}
export type AnyRow = Record<string, unknown> & { id: string };

export class TrackedWrite {
  readonly #trx: Writing;
  readonly #context: ChangeContext;
  readonly #rows: RowChange[] = [];

  constructor(trx: Writing, context: ChangeContext) {
    assertTransaction(trx);
    this.#trx = trx;
    this.#context = context;
  }

  get trx(): Writing {
    return this.#trx;
  }
  get context(): ChangeContext {
    return this.#context;
  }

  /** Inserts or replaces a row; remembers nothing when it is the same already. Answers whether anything changed. */
  async put<T extends TrackedTable>(table: T, row: Insertable<Database[T]> & { id: string }): Promise<boolean> {
    const before = await readRow(this.#trx, table, row.id);
    const after = row as unknown as AnyRow;
    if (before !== null && sameRow(before, after)) return false;
    if (before === null)
      await this.#trx
        .insertInto(table)
        .values(row as never)
        .execute();
    else {
      const { id, ...rest } = after;
      await this.#trx
        .updateTable(table as TrackedTable)
        .set(rest as UpdateObject<Database, TrackedTable>)
        .where("id", "=", id)
        .execute();
    }
    this.#remember(table, before, after);
    return true;
  }

  /** Removes a row. Answers whether it was there. */
  async remove(table: TrackedTable, id: string): Promise<boolean> {
    const before = await readRow(this.#trx, table, id);
    if (before === null) return false;
    await this.#trx.deleteFrom(table).where("id", "=", id).execute();
    this.#remember(table, before, null);
    return true;
  }

  /** Writes the change itself. null when nothing was touched. Call once, last. */
  async finish(): Promise<string | null> {
    const first = this.#rows[0];
    if (first === undefined) return null;
    const runnerIds = new Set(this.#rows.map((row) => row.runnerId));
    const onlyRunner = runnerIds.size === 1 ? first.runnerId : null;
    await this.#trx
      .insertInto("change")
      .values({
        id: this.#context.changeId,
        groupId: this.#context.groupId,
        runnerId: onlyRunner,
        at: this.#context.at,
        byAccountId: this.#context.byAccountId,
        byName: this.#context.byName,
        what: this.#context.what,
        mainTable: first.tableName,
        rowCount: this.#rows.length,
        undoOf: this.#context.undoOf ?? null,
        undoneBy: null,
      })
      .execute();
    for (let start = 0; start < this.#rows.length; start += 100) {
      const values = this.#rows.slice(start, start + 100).map((row, index) => ({
        changeId: this.#context.changeId,
        position: start + index,
        tableName: row.tableName,
        rowId: row.rowId,
        runnerId: row.runnerId,
        beforeJson: row.before === null ? null : JSON.stringify(row.before),
        afterJson: row.after === null ? null : JSON.stringify(row.after),
      }));
      await this.#trx.insertInto("changeRow").values(values).execute();
    }
    await markRunnersStale(this.#trx, [
      ...new Set([...runnerIds, ...(await this.#runnersOfChangedGroups())].filter((id) => id !== null)),
    ]);
    return this.#context.changeId;
  }

  /** A group's settings decide what is said of each of its runners. */
  async #runnersOfChangedGroups(): Promise<readonly string[]> {
    const changed = this.#rows.filter(
      ({ tableName, before, after }) =>
        tableName === "coachGroup" && before !== null && before["settingsJson"] !== after?.["settingsJson"],
    );
    if (changed.length === 0) return [];
    const groupIds = changed.map((row) => row.rowId);
    const rows = await this.#trx.selectFrom("runner").select("id").where("groupId", "in", groupIds).execute();
    return rows.map((row) => row.id);
  }

  #remember(tableName: TrackedTable, before: AnyRow | null, after: AnyRow | null): void {
    const row = after ?? before;
    if (row === null) return;
    const runnerId = tableName === "runner" ? row.id : typeof row["runnerId"] === "string" ? row["runnerId"] : null;
    this.#rows.push({ tableName, rowId: row.id, runnerId, before, after });
  }
}

/** The row as it is now, or null. */
export async function readRow(trx: Writing, table: TrackedTable, id: string): Promise<AnyRow | null> {
  const row = await trx.selectFrom(table).selectAll().where("id", "=", id).executeTakeFirst();
  return row === undefined ? null : (row as Selectable<Database[TrackedTable]> as unknown as AnyRow);
}

export function sameRow(a: AnyRow, b: AnyRow): boolean {
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].every((key) => Object.is(a[key] ?? null, b[key] ?? null));
}
