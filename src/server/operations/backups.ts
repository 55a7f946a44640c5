// Backups of a running server: on request, before migrations and once a day, with rotation.
import { basename, join } from "node:path";
import { backupSqlite, rotate } from "../../store/index.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { Refusal } from "../app/refusal.ts";

export const BACKUP_NAME = /^spondee-\d{8}T\d{6}Z\.sqlite$/;

export function stampOf(at: string): string {
  return `${at.replaceAll(/[-:]/g, "").slice(0, 15)}Z`;
}

export async function backupNow(
  deps: Pick<Deps, "store" | "clock" | "settings">,
): Promise<{ file: string; byteCount: number; at: string }> {
  const { sqlite } = deps.store;
  if (sqlite === undefined)
    throw new Refusal(
      409,
      "not-sqlite",
      "This installation runs on PostgreSQL: back it up with pg_dump, see docs/operations.md.",
    );
  const at = instant(deps.clock);
  const folder = join(deps.settings.dataDir, "backups");
  const made = await backupSqlite(sqlite, join(folder, `spondee-${stampOf(at)}.sqlite`));
  rotate(folder, BACKUP_NAME, deps.settings.keepBackups);
  return { file: basename(made.file), byteCount: made.byteCount, at };
}
