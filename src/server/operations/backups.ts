// Backups of a running server: on request, before migrations and once a day, with rotation.
import { basename, join } from "node:path";
import { backupStore, rotate } from "../../store/index.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";

export const BACKUP_NAME = /^spondee-\d{8}T\d{6}Z\.sqlite$/;

export function stampOf(at: string): string {
  return `${at.replaceAll(/[-:]/g, "").slice(0, 15)}Z`;
}

export async function backupNow(
  deps: Pick<Deps, "store" | "clock" | "settings">,
): Promise<{ file: string; byteCount: number; at: string }> {
  const at = instant(deps.clock);
  const folder = join(deps.settings.dataDir, "backups");
  const made = await backupStore(deps.store, join(folder, `spondee-${stampOf(at)}.sqlite`));
  rotate(folder, BACKUP_NAME, deps.settings.keepBackups);
  return { file: basename(made.file), byteCount: made.byteCount, at };
}
