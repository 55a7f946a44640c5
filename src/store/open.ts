// Opens the database that a setting names, brings its schema up to date, and says plainly when it cannot.
import { existsSync, mkdirSync } from "node:fs";
import { dirname } from "node:path";
import type SqliteDatabase from "better-sqlite3";
import { Kysely, Migrator } from "kysely";
import type pg from "pg";
import type { DatabaseKind } from "./dialects/kind.ts";
import { openPool, postgresDialect } from "./dialects/postgres.ts";
import { openSqliteFile, sqliteDialect } from "./dialects/sqlite.ts";
import { listMigrations, migrationProvider } from "./migrations/index.ts";
import type { Database } from "./schema/database.ts";
import { codeOf, inTransaction, type Writing } from "./transaction.ts";

export type StorePlace = { readonly sqliteFile: string } | { readonly databaseUrl: string; readonly poolSize?: number };

export interface Store {
  readonly kind: DatabaseKind;
  readonly db: Kysely<Database>;
  /** The underlying handle, for backups of an SQLite file. */
  readonly sqlite?: SqliteDatabase.Database;
  write<T>(work: (trx: Writing) => Promise<T>): Promise<T>;
  /** Writes, and on SQLite also clears the write-ahead log: what was deleted is in no file any more. */
  erase<T>(work: (trx: Writing) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** The database cannot be used; the message says why and what to do. */
export class StoreOpenError extends Error {
  override name = "StoreOpenError";
  readonly code: string;
  constructor(code: string, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}

export interface OpenOptions {
  /** Called before an existing SQLite file is migrated, with the open handle: make a backup here. */
  readonly beforeMigration?: (sqlite: SqliteDatabase.Database, fromVersion: string) => Promise<void>;
  /** false: open as it is, for tools that must not change anything. */
  readonly migrate?: boolean;
}

/** Opens the store. Throws StoreOpenError with codes not-writable, unreachable, newer, damaged or migration-failed. */
export async function openStore(place: StorePlace, options: OpenOptions = {}): Promise<Store> {
  const { kind, db, sqlite } = "sqliteFile" in place ? openSqlite(place.sqliteFile) : openPostgres(place);
  const store: Store = {
    kind,
    db,
    ...(sqlite === undefined ? {} : { sqlite }),
    write: (work) => inTransaction(db, kind, work),
    async erase(work) {
      const done = await inTransaction(db, kind, work);
      sqlite?.pragma("wal_checkpoint(TRUNCATE)");
      return done;
    },
    close: () => db.destroy(),
  };
  try {
    await checkVersion(store);
    if (options.migrate !== false) await migrate(store, options);
    return store;
  } catch (error) {
    await db.destroy().catch(() => undefined);
    throw error instanceof StoreOpenError ? error : explainOpening(error, kind);
  }
}

/** Names of migrations that were applied, in order; empty for a new database. */
async function appliedMigrations(store: Pick<Store, "db">): Promise<readonly string[]> {
  const tables = await store.db.introspection.getTables({ withInternalKyselyTables: true });
  if (!tables.some((table) => table.name === "kysely_migration")) return [];
  const rows = await (store.db as unknown as Kysely<{ kysely_migration: { name: string } }>)
    .selectFrom("kysely_migration")
    .select("name")
    .orderBy("name")
    .execute();
  return rows.map((row) => row.name);
}

export async function pendingMigrationCount(store: Store): Promise<number> {
  const applied = new Set(await appliedMigrations(store));
  return Object.keys(listMigrations(store.kind)).filter((name) => !applied.has(name)).length;
}

async function checkVersion(store: Store): Promise<void> {
  const known = new Set(Object.keys(listMigrations(store.kind)));
  const unknown = (await appliedMigrations(store)).filter((name) => !known.has(name));
  if (unknown.length > 0)
    throw new StoreOpenError(
      "newer",
      `The database was made by a newer version of Spondee (it has ${unknown.join(", ")}). Start that version, or restore a backup made by this one.`,
    );
}

async function migrate(store: Store, options: OpenOptions): Promise<void> {
  const applied = await appliedMigrations(store);
  if (applied.length > 0 && store.sqlite !== undefined && (await pendingMigrationCount(store)) > 0)
    await options.beforeMigration?.(store.sqlite, applied.at(-1) ?? "");
  const migrator = new Migrator({ db: store.db, provider: migrationProvider(store.kind) });
  const { error } = await migrator.migrateToLatest();
  if (error !== undefined)
    throw new StoreOpenError("migration-failed", `The database could not be brought up to date: ${messageOf(error)}`, {
      cause: error,
    });
}

function openSqlite(file: string): { kind: DatabaseKind; db: Kysely<Database>; sqlite: SqliteDatabase.Database } {
  try {
    if (file !== ":memory:" && !existsSync(dirname(file))) mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    const sqlite = openSqliteFile(file);
    return { kind: "sqlite", db: new Kysely<Database>({ dialect: sqliteDialect(sqlite) }), sqlite };
  } catch (error) {
    throw explainOpening(error, "sqlite");
  }
}

function openPostgres(place: { databaseUrl: string; poolSize?: number }): {
  kind: DatabaseKind;
  db: Kysely<Database>;
  sqlite?: undefined;
  pool: pg.Pool;
} {
  const pool = openPool(place.databaseUrl, place.poolSize === undefined ? {} : { max: place.poolSize });
  return { kind: "postgres", db: new Kysely<Database>({ dialect: postgresDialect(pool) }), pool };
}

function explainOpening(error: unknown, kind: DatabaseKind): StoreOpenError {
  const code = codeOf(error);
  const options = { cause: error };
  if (["EACCES", "EPERM", "EROFS", "SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_READONLY_DIRECTORY"].includes(code))
    return new StoreOpenError(
      "not-writable",
      "The data folder cannot be written. Choose another with --data, or make it writable.",
      options,
    );
  // SHMSIZE: there is no room for the small file that lies beside an open database.
  if (["ENOSPC", "EDQUOT", "SQLITE_FULL", "SQLITE_IOERR_SHMSIZE"].includes(code))
    return new StoreOpenError("disk-full", "The disk is full. Make room, then start again; nothing was lost.", options);
  if (code === "SQLITE_NOTADB" || code === "SQLITE_CORRUPT")
    return new StoreOpenError(
      "damaged",
      "The database file is damaged or is not a database. Restore the latest backup: spondee restore FILE --data DIR.",
      options,
    );
  return kind === "postgres"
    ? new StoreOpenError(
        "unreachable",
        `PostgreSQL cannot be used (${messageOf(error)}). Check SPONDEE_DATABASE_URL and that the server runs.`,
        options,
      )
    : new StoreOpenError("unusable", `The database cannot be opened: ${messageOf(error)}`, options);
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message || error.name : String(error);
}
