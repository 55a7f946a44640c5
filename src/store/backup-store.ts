// A backup is one SQLite file whatever the database: of PostgreSQL it is one moment, copied table by table.
import { copyFileSync, rmSync } from "node:fs";
import { type BackupFile, backupFault, BackupError, backupSqlite, makeBackup } from "./backup.ts";
import { moveStore, type TableCounts } from "./move.ts";
import { openStore, pendingMigrationCount, type Store } from "./open.ts";

/** Consistent while others write; checked before it gets its name. */
export function backupStore(store: Store, file: string): Promise<BackupFile> {
  if (store.sqlite !== undefined) return backupSqlite(store.sqlite, file);
  return makeBackup(file, async (temporary) => {
    if ((await pendingMigrationCount(store)) > 0)
      throw new BackupError(
        "The database is of an older version. Start this version once, or use the older to back up.",
      );
    const copy = await openStore({ sqliteFile: temporary });
    try {
      await moveStore(store, copy);
    } finally {
      await copy.close();
    }
  });
}

/** Puts a checked backup into an empty PostgreSQL database; answers how many rows of each table. Leaves the file alone. */
export async function restoreInto(file: string, target: Store): Promise<TableCounts> {
  const fault = backupFault(file);
  if (fault !== null) throw new BackupError(fault);
  // A copy, since one that an older version made is brought up to date first.
  const temporary = `${file}.restoring-${process.pid}`;
  try {
    copyFileSync(file, temporary);
    const source = await openStore({ sqliteFile: temporary });
    try {
      return await moveStore(source, target);
    } finally {
      await source.close();
    }
  } finally {
    for (const suffix of ["", "-wal", "-shm"]) rmSync(`${temporary}${suffix}`, { force: true });
  }
}
