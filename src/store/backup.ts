// Backups of an SQLite store: consistent while the server runs, checked before they are trusted, rotated.
import { createHash } from "node:crypto";
import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { dirname, join } from "node:path";
import type SqliteDatabase from "better-sqlite3";
import { openSqliteFile } from "./dialects/sqlite.ts";
import { listMigrations } from "./migrations/index.ts";
import { codeOf } from "./transaction.ts";

export class BackupError extends Error {
  override name = "BackupError";
}

export interface BackupFile {
  readonly file: string;
  readonly byteCount: number;
  readonly sha256: string;
}

/** Copies a running SQLite database into one file, whole or not at all. */
export function backupSqlite(sqlite: SqliteDatabase.Database, file: string): Promise<BackupFile> {
  return makeBackup(file, async (temporary) => {
    await sqlite.backup(temporary);
  });
}

/** `fill` writes a database under a temporary name; then integrity check, sync, rename. */
export async function makeBackup(file: string, fill: (temporary: string) => Promise<void>): Promise<BackupFile> {
  mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  const temporary = `${file}.part-${process.pid}`;
  try {
    await fill(temporary);
    const copy = openSqliteFile(temporary);
    // One plain file without a log beside it.
    copy.pragma("journal_mode = DELETE");
    const faults = integrityFaults(copy);
    copy.close();
    if (faults.length > 0) throw new BackupError(`The backup did not pass its integrity check: ${faults[0] ?? ""}`);
    syncFile(temporary);
    renameSync(temporary, file);
    syncFile(dirname(file));
    return {
      file,
      byteCount: statSync(file).size,
      sha256: createHash("sha256").update(readFileSync(file)).digest("hex"),
    };
  } catch (error) {
    for (const suffix of ["", "-wal", "-shm"]) rmSync(`${temporary}${suffix}`, { force: true });
    if (codeOf(error) === "ENOSPC" || codeOf(error) === "SQLITE_FULL")
      throw new BackupError("The disk is full; no backup was made and the database is untouched.", { cause: error });
    throw error;
  }
}

/** Empty when the file is sound. Checks structure and references. */
export function integrityFaults(sqlite: SqliteDatabase.Database): readonly string[] {
  const structure = (sqlite.pragma("integrity_check(20)") as { integrity_check: string }[])
    .map((row) => row.integrity_check)
    .filter((text) => text !== "ok");
  const references = (sqlite.pragma("foreign_key_check") as { table: string }[]).map(
    (row) => `a row of ${row.table} refers to nothing`,
  );
  return [...structure, ...references];
}

/** Why a file is not a backup that this program can use, or null when it is one. */
export function backupFault(file: string): string | null {
  if (!existsSync(file)) return `There is no file ${file}.`;
  let sqlite: SqliteDatabase.Database | undefined;
  try {
    sqlite = openSqliteFile(file, { readonly: true });
    const tables = new Set(
      (sqlite.prepare("select name from sqlite_master where type = 'table'").all() as { name: string }[]).map(
        (row) => row.name,
      ),
    );
    if (!tables.has("kysely_migration") || !tables.has("coachGroup"))
      return `${file} is a database, but not one of Spondee's.`;
    const known = new Set(Object.keys(listMigrations("sqlite")));
    const applied = sqlite.prepare("select name from kysely_migration").all() as { name: string }[];
    const unknown = applied.find((row) => !known.has(row.name));
    if (unknown !== undefined) return `${file} was made by a newer version of Spondee (${unknown.name}).`;
    const faults = integrityFaults(sqlite);
    return faults.length === 0 ? null : [`${file} is damaged:`, ...faults].join("\n");
  } catch (error) {
    return `${file} is not a Spondee backup (${error instanceof Error ? error.message : String(error)}).`;
  } finally {
    sqlite?.close();
  }
}

/**
 * Puts a checked backup in place of the database. What was there is kept beside it and its name is given back.
 * Refuses when there is a database and `replace` was not said. The server must be stopped.
 */
export function restoreSqlite(
  backup: string,
  target: string,
  options: { readonly replace: boolean; readonly stamp: string },
): { readonly kept: string | null } {
  const fault = backupFault(backup);
  if (fault !== null) throw new BackupError(fault);
  if (existsSync(target) && !options.replace)
    throw new BackupError(
      `${target} already holds a database. Say --replace to put the backup in its place (the present one is kept beside it).`,
    );
  mkdirSync(dirname(target), { recursive: true, mode: 0o700 });
  const temporary = `${target}.restoring-${process.pid}`;
  copyFileSync(backup, temporary);
  syncFile(temporary);
  const again = backupFault(temporary);
  if (again !== null) {
    rmSync(temporary, { force: true });
    throw new BackupError(again);
  }
  let kept: string | null = null;
  if (existsSync(target)) {
    assertNotInUse(target);
    kept = `${target}.before-restore-${options.stamp}`;
    renameSync(target, kept);
  }
  for (const suffix of ["-wal", "-shm"]) rmSync(`${target}${suffix}`, { force: true });
  renameSync(temporary, target);
  syncFile(dirname(target));
  return { kept };
}

/** Folds the log into the file, and refuses while another process has it open for writing. */
function assertNotInUse(file: string): void {
  const sqlite = openSqliteFile(file);
  try {
    sqlite.pragma("busy_timeout = 0");
    sqlite.pragma("locking_mode = EXCLUSIVE");
    // In exclusive mode the first write takes every lock and fails when anyone else has the file open.
    sqlite.exec("begin exclusive; commit");
    sqlite.pragma("wal_checkpoint(TRUNCATE)");
    sqlite.pragma("journal_mode = DELETE");
  } catch (error) {
    if (codeOf(error).startsWith("SQLITE_BUSY"))
      throw new BackupError("The database is in use. Stop the server first.", { cause: error });
    throw error;
  } finally {
    sqlite.close();
  }
}

/** Deletes the oldest files of a folder that match, beyond how many to keep. Names must sort by time. */
export function rotate(folder: string, pattern: RegExp, keep: number): readonly string[] {
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder)
    .filter((name) => pattern.test(name))
    .sort();
  const old = files.slice(0, Math.max(0, files.length - keep));
  for (const name of old) rmSync(join(folder, name), { force: true });
  return old;
}

function syncFile(path: string): void {
  const handle = openSync(path, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
