// How the server answers as the data grows: coaches, runners and summaries of runs, over loopback, on both databases.
// Usage: tsx bench/load.ts [--postgres] [--pause] [summaries…]   (default 1000 10000 100000; the largest tried is 1000000)
// --pause: waits for a line on standard input once a database is filled, so that the machine can be made quiet.
import { randomBytes } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { createRandom } from "../src/engine/quantities/random.ts";
import { newId } from "../src/api/index.ts";
import { createLocalAnalyst } from "../src/server/analysis/analyst.ts";
import { createApp } from "../src/server/app/create-app.ts";
import { systemClock } from "../src/server/app/clock.ts";
import { defaultPasswordCost, type Deps } from "../src/server/app/deps.ts";
import { silentLog } from "../src/server/operations/log.ts";
import { createMetrics } from "../src/server/operations/metrics.ts";
import { openStore, type StorePlace } from "../src/store/index.ts";
import { createTestDatabase } from "../tests/store-variants.ts";
import { fill, RUNNERS_PER_GROUP } from "./load/fill.ts";

const SAMPLES = 100;
const EVENINGS = 50;
const EVENINGS_LOOKED_AT = 10;
const COUNTS_PER_EVENING = 30;
const OPENING = ["", "/baseline", "/proposal", "/plan", "/comparison", "/runs", "/recordings?limit=50", "/pain"];
const random = createRandom(1);
const pick = <T>(list: readonly T[]): T => list[random.below(list.length)] as T;

const postgres = process.argv.includes("--postgres");
const lines = process.argv.includes("--pause")
  ? createInterface({ input: process.stdin })[Symbol.asyncIterator]()
  : null;
const sizes = process.argv.slice(2).map(Number).filter(Number.isFinite);
const server = postgres ? await startDatabase() : undefined;
try {
  for (const size of sizes.length > 0 ? sizes : [1000, 10_000, 100_000]) await inOwnDatabase(size);
} finally {
  server?.stop();
  process.stdin.destroy();
}

async function startDatabase(): Promise<{ readonly url: string; readonly stop: () => void }> {
  const script = (name: string): string => new URL(`../scripts/${name}.mjs`, import.meta.url).href;
  const { startTestDatabase } = (await import(script("test-database"))) as {
    startTestDatabase: (bin: string) => Promise<{ url: string; stop: () => void }>;
  };
  const { findPostgres } = (await import(script("tools"))) as { findPostgres: () => string };
  return startTestDatabase(findPostgres());
}

async function inOwnDatabase(summaries: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "spondee-load-"));
  const database = server === undefined ? undefined : await createTestDatabase(server.url);
  try {
    await measure(
      summaries,
      folder,
      database === undefined
        ? { sqliteFile: join(folder, "spondee.sqlite") }
        : { databaseUrl: database.url, poolSize: 20 },
    );
  } finally {
    await database?.drop();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function measure(summaries: number, folder: string, place: StorePlace): Promise<void> {
  const store = await openStore(place);
  const deps: Deps = {
    store,
    clock: systemClock,
    analyst: createLocalAnalyst("bench"),
    log: silentLog,
    metrics: createMetrics(),
    settings: {
      dataDir: folder,
      allowedHosts: ["127.0.0.1"],
      secureCookies: false,
      trustProxy: false,
      maxUploadBytes: 2 ** 27,
      requestsPerMinute: 1e9,
      passwordCost: defaultPasswordCost,
      keepBackups: 1,
      version: "bench",
    },
    wakeJobs: () => undefined,
  };
  const app = await createApp(deps);
  try {
    const started = performance.now();
    const groups = await fill(deps, summaries);
    const filledS = (performance.now() - started) / 1000;
    if (lines !== null) {
      process.stderr.write(`filled with ${summaries} in ${round(filledS)} s; press Enter\n`);
      await lines.next();
    }
    const address = await app.listen({ host: "127.0.0.1", port: 0 });
    const call = async (path: string, cookie: string, init: RequestInit = {}): Promise<number> => {
      const from = performance.now();
      const response = await fetch(`${address}${path}`, {
        ...init,
        headers: { cookie, "x-spondee": "1", "content-type": "application/json" },
      });
      await response.arrayBuffer();
      if (!response.ok) throw new Error(`${path}: ${response.status}`);
      return performance.now() - from;
    };
    const week: number[] = [];
    const runner: number[] = [];
    for (let sample = 0; sample < SAMPLES; sample += 1) {
      const group = pick(groups);
      week.push(await call(`/api/groups/${group.id}/week`, group.cookie));
      const from = performance.now();
      const who = `/api/runners/${pick(group.runnerIds)}`;
      await Promise.all(OPENING.map((part) => call(`${who}${part}`, group.cookie)));
      runner.push(performance.now() - from);
    }
    const sync = (group: (typeof groups)[number]): Promise<number> => {
      const counts = group.runnerIds
        .slice(0, COUNTS_PER_EVENING)
        .map((runnerId) => ({ id: newId(Date.now(), randomBytes(10)), runnerId, count: countNow() }));
      const body = JSON.stringify({ counts });
      return call(`/api/groups/${group.id}/counts`, group.cookie, { method: "PUT", body });
    };
    const evening = performance.now();
    const syncs = await Promise.all(
      Array.from({ length: EVENINGS }, (_, index) => sync(groups[index % groups.length]!)),
    );
    const fiftyEveningsMs = round(performance.now() - evening);
    // The copies were never computed from what they hold: once, so that the next evening is like any other.
    const last = groups.slice(0, EVENINGS_LOOKED_AT);
    for (const group of last) await call(`/api/groups/${group.id}/week`, group.cookie);
    const afterEvening: number[] = [];
    for (let time = 0; afterEvening.length < 2 * EVENINGS_LOOKED_AT; time += 1) {
      const group = last[time % last.length]!;
      await sync(group);
      afterEvening.push(await call(`/api/groups/${group.id}/week`, group.cookie));
    }
    const row = {
      database: store.kind,
      summaries,
      runners: groups.length * RUNNERS_PER_GROUP,
      coaches: groups.length,
      filledS: round(filledS),
      weekMs: quantiles(week),
      openRunnerMs: quantiles(runner),
      fiftyEveningsMs,
      oneEveningMs: quantiles(syncs),
      weekRightAfterEveningMs: quantiles(afterEvening),
    };
    process.stdout.write(`${JSON.stringify(row)}\n`);
  } finally {
    await app.close();
    await store.close();
  }
}

function countNow(): object {
  return {
    way: "contacts-in-time",
    contacts: 80,
    seconds: 60,
    feet: "one",
    measuredAt: new Date().toISOString(),
    purpose: "check",
  };
}

function quantiles(values: readonly number[]): { p50: number; p95: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number =>
    round(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0);
  return { p50: at(0.5), p95: at(0.95) };
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
