// SQLite in a file: write-ahead log, one sync per commit, so that what was acknowledged survives a power cut.
import SqliteDatabase from "better-sqlite3";
import { CompiledQuery, type DatabaseConnection, type Driver, SqliteDialect, SqliteDriver } from "kysely";

/** Opens or creates the file. `readonly` for looking at a backup. */
export function openSqliteFile(file: string, options: { readonly?: boolean } = {}): SqliteDatabase.Database {
  const raw = new SqliteDatabase(file, { readonly: options.readonly ?? false, timeout: 5000 });
  if (options.readonly !== true) {
    raw.pragma("journal_mode = WAL");
    raw.pragma("synchronous = FULL");
    // What is deleted is written over with zeros: a deleted person is not to be found in the file's free pages.
    raw.pragma("secure_delete = ON");
  }
  raw.pragma("foreign_keys = ON");
  raw.pragma("cache_size = -32000");
  return raw;
}

/**
 * Transactions take the write lock at once: a transaction that begins by reading cannot then fail to write. One that SQLite
 * gave up by itself (the disk is full) is not rolled back again: that would fail and hide why.
 */
class ImmediateDriver extends SqliteDriver {
  readonly #raw: SqliteDatabase.Database;
  constructor(raw: SqliteDatabase.Database) {
    super({ database: raw });
    this.#raw = raw;
  }
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw("begin immediate"));
  }
  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    if (this.#raw.inTransaction) await super.rollbackTransaction(connection);
  }
}

class ImmediateSqliteDialect extends SqliteDialect {
  readonly #raw: SqliteDatabase.Database;
  constructor(raw: SqliteDatabase.Database) {
    super({ database: raw });
    this.#raw = raw;
  }
  override createDriver(): Driver {
    return new ImmediateDriver(this.#raw);
  }
}

export function sqliteDialect(raw: SqliteDatabase.Database): SqliteDialect {
  return new ImmediateSqliteDialect(raw);
}
