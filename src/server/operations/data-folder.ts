// Backup, restore, integrity and move of a data folder, for the command line.
import { existsSync } from "node:fs";
import { join } from "node:path";
import {
  backupStore,
  BackupError,
  countTables,
  integrityFaults,
  moveStore,
  openStore,
  restoreInto,
  restoreSqlite,
} from "../../store/index.ts";
import { stampOf } from "./backups.ts";

const DATABASE = "spondee.sqlite";

export interface BackupReport {
  readonly file: string;
  readonly byteCount: number;
  readonly sha256: string;
}

/** Consistent also while servers run on it: the folder's database, or PostgreSQL's. Refuses to write over a file. */
export async function backupFolder(dataDir: string, file: string, databaseUrl?: string): Promise<BackupReport> {
  const source = join(dataDir, DATABASE);
  if (databaseUrl === undefined && !existsSync(source)) throw new BackupError(`There is no database in ${dataDir}.`);
  if (existsSync(file)) throw new BackupError(`${file} exists already. Choose another name.`);
  const store = await openStore(databaseUrl === undefined ? { sqliteFile: source } : { databaseUrl, poolSize: 2 }, {
    migrate: false,
  });
  try {
    return await backupStore(store, file);
  } finally {
    await store.close();
  }
}

/** Puts a checked backup in place; the server must be stopped. `kept` is where the database that was there lies now. */
export function restoreFolder(
  file: string,
  dataDir: string,
  options: { readonly replace: boolean; readonly now: Date },
): { readonly kept: string | null } {
  return restoreSqlite(file, join(dataDir, DATABASE), {
    replace: options.replace,
    stamp: stampOf(options.now.toISOString()),
  });
}

/** Puts a checked backup into an empty PostgreSQL database and counts what came. */
export async function restoreDatabase(file: string, databaseUrl: string): Promise<Readonly<Record<string, number>>> {
  const store = await openStore({ databaseUrl, poolSize: 2 });
  try {
    return await restoreInto(file, store);
  } finally {
    await store.close();
  }
}

/** Faults found; empty when the database is sound. */
export async function checkIntegrity(dataDir: string): Promise<readonly string[]> {
  const source = join(dataDir, DATABASE);
  if (!existsSync(source)) throw new BackupError(`There is no database in ${dataDir}.`);
  const store = await openStore({ sqliteFile: source }, { migrate: false });
  try {
    return store.sqlite === undefined ? [] : integrityFaults(store.sqlite);
  } finally {
    await store.close();
  }
}

/** Moves between the folder's SQLite and a PostgreSQL database, either way; answers how many rows of each table. */
export async function moveData(
  dataDir: string,
  databaseUrl: string,
  direction: "to-postgres" | "to-sqlite",
): Promise<Readonly<Record<string, number>>> {
  const local = { sqliteFile: join(dataDir, DATABASE) };
  const remote = { databaseUrl, poolSize: 2 };
  const from = await openStore(direction === "to-postgres" ? local : remote);
  try {
    const to = await openStore(direction === "to-postgres" ? remote : local);
    try {
      const moved = await moveStore(from, to);
      const there = await countTables(to);
      return { ...moved, ...there };
    } finally {
      await to.close();
    }
  } finally {
    await from.close();
  }
}
