// From one database to another, either way: every table copied in one transaction, then counted and compared.
import { type Insertable, sql } from "kysely";
import type { Store } from "./open.ts";
import type { Database, TableName } from "./schema/database.ts";
import { tablesInOrder } from "./schema/tables.ts";
import type { Writing } from "./transaction.ts";

export class MoveError extends Error {
  override name = "MoveError";
}

export type TableCounts = Readonly<Record<string, number>>;

/** What makes each table's rows come in one order, so that they can be read page by page. */
const keys: Readonly<Record<TableName, readonly string[]>> = {
  account: ["id"],
  signInSession: ["tokenHash"],
  oneTimeCode: ["codeHash"],
  wrongGuess: ["nameHash"],
  coachGroup: ["id"],
  member: ["id"],
  runner: ["id"],
  footCount: ["id"],
  recording: ["id"],
  recordingChunk: ["recordingId", "chunkIndex"],
  uploadPart: ["runnerId", "recordingId", "startByte"],
  analysis: ["recordingId"],
  proposalDecision: ["id"],
  plan: ["id"],
  decision: ["id"],
  pain: ["id"],
  formNote: ["id"],
  videoMeasure: ["id"],
  report: ["id"],
  attendance: ["id"],
  runnerLink: ["id"],
  consent: ["id"],
  practicePiece: ["id"],
  mailAddress: ["id"],
  mailServer: ["accountId"],
  mailItem: ["id"],
  calendarFeed: ["id"],
  change: ["id"],
  changeRow: ["changeId", "position"],
  audit: ["id"],
  job: ["id"],
  runnerState: ["runnerId"],
  installation: ["name"],
};

/** Copies everything into an empty store. Throws MoveError when the target is not empty or a count differs. */
export async function moveStore(from: Store, to: Store): Promise<TableCounts> {
  const occupied = Object.entries(await countTables(to)).find(([, count]) => count > 0);
  if (occupied !== undefined)
    throw new MoveError(
      `The target already holds data (${occupied[1]} rows in ${occupied[0]}). Move into an empty database.`,
    );
  return (
    from.db
      .transaction()
      // One moment of the source, whoever writes to it meanwhile.
      .setIsolationLevel("repeatable read")
      .execute(async (source) => {
        const counts = await to.db.transaction().execute(async (target) => {
          const copied: Record<string, number> = {};
          for (const table of tablesInOrder) copied[table] = await copyTable(source, target, table);
          return copied;
        });
        const there = await countTables(to);
        for (const [table, count] of Object.entries(counts))
          if (there[table] !== count)
            throw new MoveError(`After the move ${table} has ${there[table] ?? 0} rows instead of ${count}.`);
        return counts;
      })
  );
}

export async function countTables(store: Pick<Store, "db">): Promise<TableCounts> {
  const counts: Record<string, number> = {};
  for (const table of tablesInOrder) {
    const row = await store.db
      .selectFrom(table as TableName)
      .select((build) => build.fn.countAll<number>().as("count"))
      .executeTakeFirstOrThrow();
    counts[table] = Number(row.count);
  }
  return counts;
}

async function copyTable(source: Writing, target: Writing, table: TableName): Promise<number> {
  const pageSize = table === "recordingChunk" || table === "uploadPart" || table === "analysis" ? 8 : 200;
  const columns = sql.join(keys[table].map((key) => sql.ref(key)));
  let copied = 0;
  let last: Readonly<Record<string, unknown>> | undefined;
  for (;;) {
    let query = source.selectFrom(table).selectAll();
    for (const key of keys[table]) query = query.orderBy(key as never);
    if (last !== undefined) {
      const values = sql.join(keys[table].map((key) => last?.[key]));
      query = query.where(sql<boolean>`(${columns}) > (${values})`);
    }
    const rows = await query.limit(pageSize).execute();
    if (rows.length === 0) return copied;
    last = rows.at(-1);
    await target
      .insertInto(table)
      .values(rows as Insertable<Database[typeof table]>[])
      .execute();
    copied += rows.length;
  }
}
