// One place where writing happens, and where a transaction that lost a race is tried again.
import { type Kysely, sql, type Transaction } from "kysely";
import type { DatabaseKind } from "./dialects/kind.ts";
import type { Database } from "./schema/database.ts";

export type Reading = Kysely<Database>;
export type Writing = Transaction<Database>;

/** Database codes after which the same transaction may simply be run again. */
const RETRY_CODES = new Set(["SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT", "SQLITE_LOCKED", "40001", "40P01"]);
/** Milliseconds before each further try; after the last the error goes to the caller. */
const RETRY_DELAYS_MS = [2, 5, 10, 20, 50, 100, 200, 400, 800];
/** After so many lost races on PostgreSQL a transaction asks everyone else to wait. */
const TRIES_AMONG_OTHERS = 4;
/** PostgreSQL's advisory lock that transactions share, and that one of them takes alone. Any number; ours. */
const WRITING_LOCK = 7_411_001;

/**
 * Runs `work` in one transaction: all of it or nothing, as if no other ran beside it. `work` may run several times and must
 * touch nothing but the database. On PostgreSQL a long transaction could lose to a stream of short ones for ever: after some
 * lost races it waits for those under way, holds up the next, and runs alone.
 */
export async function inTransaction<T>(
  db: Kysely<Database>,
  kind: DatabaseKind,
  work: (trx: Writing) => Promise<T>,
): Promise<T> {
  for (let attempt = 0; ; attempt += 1) {
    try {
      if (kind === "sqlite") return await db.transaction().execute(work);
      return attempt < TRIES_AMONG_OTHERS ? await amongOthers(db, work) : await alone(db, work);
    } catch (error) {
      const delayMs = RETRY_DELAYS_MS[attempt];
      if (delayMs === undefined || !RETRY_CODES.has(codeOf(error))) throw error;
      await new Promise((resolve) => setTimeout(resolve, delayMs * (0.5 + Math.random())));
    }
  }
}

function amongOthers<T>(db: Kysely<Database>, work: (trx: Writing) => Promise<T>): Promise<T> {
  return serializable(db, async (trx) => {
    await sql`select pg_advisory_xact_lock_shared(${sql.lit(WRITING_LOCK)})`.execute(trx);
    return work(trx);
  });
}

/** The lock is taken before the transaction begins, so that it sees everything that it waited for. */
function alone<T>(db: Kysely<Database>, work: (trx: Writing) => Promise<T>): Promise<T> {
  return db.connection().execute(async (connection) => {
    await sql`select pg_advisory_lock(${sql.lit(WRITING_LOCK)})`.execute(connection);
    try {
      return await serializable(connection, work);
    } finally {
      await sql`select pg_advisory_unlock(${sql.lit(WRITING_LOCK)})`.execute(connection);
    }
  });
}

function serializable<T>(db: Kysely<Database>, work: (trx: Writing) => Promise<T>): Promise<T> {
  return db.transaction().setIsolationLevel("serializable").execute(work);
}

/** First line of every writer. */
export function assertTransaction(db: Reading): asserts db is Writing {
  if (!db.isTransaction) throw new TypeError("writer: needs an open transaction");
}

export function codeOf(error: unknown): string {
  return typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
}

/** A row is still referred to, or refers to nothing: on either database. */
export function isForeignKeyFailure(error: unknown): boolean {
  return codeOf(error) === "23503" || codeOf(error).startsWith("SQLITE_CONSTRAINT_FOREIGNKEY");
}

export function isUniqueFailure(error: unknown): boolean {
  return codeOf(error) === "23505" || /^SQLITE_CONSTRAINT_(UNIQUE|PRIMARYKEY)/.test(codeOf(error));
}
