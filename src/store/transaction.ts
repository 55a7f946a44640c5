// One place where writing happens, and where a transaction that lost a race is tried again.
import type { Kysely, Transaction } from "kysely";
import type { Database } from "./schema/database.ts";

export type Reading = Kysely<Database>;
export type Writing = Transaction<Database>;

/** Database codes after which the same transaction may simply be run again. */
const RETRY_CODES = new Set(["SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT", "SQLITE_LOCKED", "40001", "40P01"]);
/** Milliseconds before each further try; after the last the error goes to the caller. */
const RETRY_DELAYS_MS = [2, 5, 10, 20, 50, 100, 200, 400, 800];

/**
 * Runs `work` in one transaction: all of it or nothing. `work` may run several times and must touch nothing but the
 * database.
 */
export async function inTransaction<T>(db: Kysely<Database>, work: (trx: Writing) => Promise<T>): Promise<T> {
  for (let attempt = 0; ; attempt += 1) {
    try {
      return await db.transaction().execute(work);
    } catch (error) {
      const delayMs = RETRY_DELAYS_MS[attempt];
      if (delayMs === undefined || !RETRY_CODES.has(codeOf(error))) throw error;
      await new Promise((resolve) => setTimeout(resolve, delayMs * (0.5 + Math.random())));
    }
  }
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
