// Health, metrics, audit, backups.
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { operationRoutes } from "../../api/routes/operations.ts";
import { ChangeReader, pendingMigrationCount, waitingJobCount } from "../../store/index.ts";
import type { Handlers } from "../app/call.ts";
import type { Deps } from "../app/deps.ts";
import { onePiece } from "../app/send-file.ts";
import { Refusal } from "../app/refusal.ts";
import { BACKUP_NAME, backupNow } from "../operations/backups.ts";
import { audit } from "../use-cases/audit.ts";
import { pageOf } from "../use-cases/own-rows.ts";

export function operationHandlers(deps: Deps): Handlers<keyof typeof operationRoutes> {
  const { store, settings, metrics } = deps;
  return {
    "GET /api/health": () => ({ status: "ok", version: settings.version }),
    "GET /api/ready": async ({ reply }) => {
      try {
        const migrationsPending = await pendingMigrationCount(store);
        const ready = migrationsPending === 0;
        if (!ready) void reply.code(503);
        return {
          status: ready ? "ready" : "not-ready",
          database: store.kind,
          migrationsPending,
          jobsWaiting: await waitingJobCount(store.db),
        };
      } catch (error) {
        deps.log.error("not ready", { error });
        throw new Refusal(503, "database-unreachable", "The database does not answer.");
      }
    },
    "GET /api/metrics": async () => {
      const memory = process.memoryUsage();
      const text = metrics.text({
        jobs_waiting: await waitingJobCount(store.db),
        resident_memory_bytes: memory.rss,
        heap_used_bytes: memory.heapUsed,
      });
      return {
        stream: onePiece(text),
        mediaType: "application/openmetrics-text; version=1.0.0; charset=utf-8",
        fileName: "metrics.txt",
        inline: true,
      };
    },
    "GET /api/audit": ({ query }) =>
      new ChangeReader(store.db).audit(pageOf(query)).then((page) => ({ ...page, items: [...page.items] })),
    "POST /api/backups": async ({ caller }) => {
      const made = await backupNow(deps);
      await store.write((trx) => audit(deps, trx, "backup-made", { byAccountId: caller.account.id }));
      return made;
    },
    "GET /api/backups": () => {
      const folder = join(settings.dataDir, "backups");
      const names = existsSync(folder) ? readdirSync(folder).filter((name) => BACKUP_NAME.test(name)) : [];
      const items = names
        .sort()
        .reverse()
        .map((name) => {
          const { size, mtime } = statSync(join(folder, name));
          return { file: name, byteCount: size, at: mtime.toISOString() };
        });
      return { items };
    },
  };
}
