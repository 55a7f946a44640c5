// How the server answers as the data grows: coaches, runners and run summaries by the thousand, over loopback.
// Usage: tsx bench/server-load.ts [summaries…]   (default 1000 10000 100000; SPONDEE_DATABASE_URL for PostgreSQL, empty database)
import { createHash, randomBytes } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Plan } from "../src/engine/plan/plan.ts";
import { outlineOf } from "../src/engine/plan/plan-outline.ts";
import { createRandom } from "../src/engine/quantities/random.ts";
import { newId } from "../src/api/index.ts";
import { evaluateRunner } from "../src/server/analysis/evaluate-runner.ts";
import { weekStateOf } from "../src/server/analysis/runner-state.ts";
import { createLocalAnalyst } from "../src/server/analysis/analyst.ts";
import { createApp } from "../src/server/app/create-app.ts";
import { systemClock } from "../src/server/app/clock.ts";
import { defaultPasswordCost, type Deps } from "../src/server/app/deps.ts";
import { seedDemoGroup } from "../src/server/demo/seed-demo.ts";
import { silentLog } from "../src/server/operations/log.ts";
import { createMetrics } from "../src/server/operations/metrics.ts";
import { evaluationInput } from "../src/server/use-cases/runner-state.ts";
import { openStore, type Store } from "../src/store/index.ts";

const RUNS_PER_RUNNER = 50;
const RUNNERS_PER_GROUP = 40;
const SAMPLES = 60;
const random = createRandom(1);
const id = () => newId(Date.now() - random.below(1e9), randomBytes(10));

const sizes = process.argv.slice(2).map(Number);
for (const size of sizes.length > 0 ? sizes : [1000, 10_000, 100_000]) await measure(size);

async function measure(summaries: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "spondee-load-"));
  const url = process.env["SPONDEE_DATABASE_URL"];
  const store = await openStore(
    url === undefined ? { sqliteFile: join(folder, "spondee.sqlite") } : { databaseUrl: url, poolSize: 20 },
  );
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
    const pick = <T>(list: readonly T[]): T => list[random.below(list.length)] as T;
    const week: number[] = [];
    const runner: number[] = [];
    for (let sample = 0; sample < SAMPLES; sample += 1) {
      const group = pick(groups);
      week.push(await call(`/api/groups/${group.id}/week`, group.cookie));
      const from = performance.now();
      const who = `/api/runners/${pick(group.runnerIds)}`;
      await Promise.all(
        ["", "/baseline", "/proposal", "/plan", "/comparison", "/runs", "/recordings?limit=50", "/pain"].map((part) =>
          call(`${who}${part}`, group.cookie),
        ),
      );
      runner.push(performance.now() - from);
    }
    const evening = performance.now();
    await Promise.all(
      Array.from({ length: 50 }, (_, index) => {
        const group = groups[index % groups.length] as (typeof groups)[number];
        const counts = group.runnerIds.slice(0, 30).map((runnerId) => ({
          id: id(),
          runnerId,
          count: {
            way: "contacts-in-time",
            contacts: 80,
            seconds: 60,
            feet: "one",
            measuredAt: "2026-03-05T18:00:00Z",
            purpose: "check",
          },
        }));
        return call(`/api/groups/${group.id}/counts`, group.cookie, {
          method: "PUT",
          body: JSON.stringify({ counts }),
        });
      }),
    );
    const eveningMs = performance.now() - evening;
    process.stdout.write(
      `${JSON.stringify({ database: store.kind, summaries, runners: groups.length * RUNNERS_PER_GROUP, coaches: groups.length, filledS: round(filledS), weekMs: quantiles(week), openRunnerMs: quantiles(runner), fiftyEveningsMs: round(eveningMs) })}\n`,
    );
  } finally {
    await app.close();
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Copies of one invented runner's real state, plan and recordings, so that every row has its usual size. */
async function fill(deps: Deps, summaries: number) {
  const { store } = deps;
  const account = {
    id: id(),
    signInName: "seed",
    displayName: "Seed",
    passwordHash: null,
    owner: 1,
    disabled: 0,
    createdAt: "2026-01-01T00:00:00.000Z",
  };
  await store.db.insertInto("account").values(account).execute();
  const demoId = await seedDemoGroup(deps, account);
  const model = await store.db
    .selectFrom("runner")
    .innerJoin("plan", "plan.runnerId", "runner.id")
    .selectAll("runner")
    .where("runner.groupId", "=", demoId)
    .orderBy("runner.name")
    .executeTakeFirstOrThrow();
  const demoGroup = await store.db
    .selectFrom("coachGroup")
    .selectAll()
    .where("id", "=", demoId)
    .executeTakeFirstOrThrow();
  const plan = await store.db.selectFrom("plan").selectAll().where("runnerId", "=", model.id).executeTakeFirstOrThrow();
  const accepted = await store.db
    .selectFrom("proposalDecision")
    .selectAll()
    .where("runnerId", "=", model.id)
    .executeTakeFirstOrThrow();
  const state = evaluateRunner(await evaluationInput(store.db, model.id));
  const runs = Array.from({ length: RUNS_PER_RUNNER }, (_, index) => state.runs[index % state.runs.length]);
  const full = { ...state, runs: runs.filter((run) => run !== undefined) };
  const stateJson = JSON.stringify(full);
  const weekJson = JSON.stringify(weekStateOf(full, outlineOf(JSON.parse(plan.planJson) as Plan)));
  const [recording] = await store.db
    .selectFrom("recording")
    .selectAll()
    .where("runnerId", "=", model.id)
    .limit(1)
    .execute();
  const [analysis] = await store.db
    .selectFrom("analysis")
    .selectAll()
    .where("recordingId", "=", recording?.id ?? "")
    .execute();
  if (recording === undefined || analysis === undefined) throw new Error("the demo has no recording");

  const groupCount = Math.max(1, Math.round(summaries / RUNS_PER_RUNNER / RUNNERS_PER_GROUP));
  const groups: { id: string; cookie: string; runnerIds: string[] }[] = [];
  for (let index = 0; index < groupCount; index += 1) {
    const groupId = id();
    const coachId = id();
    const token = randomBytes(32).toString("base64url");
    const runnerIds = Array.from({ length: RUNNERS_PER_GROUP }, id);
    await store.db.transaction().execute(async (trx) => {
      await trx
        .insertInto("account")
        .values({ ...account, id: coachId, signInName: `coach-${index}`, owner: 0 })
        .execute();
      await trx
        .insertInto("coachGroup")
        .values({ ...demoGroup, id: groupId, invented: 0 })
        .execute();
      await trx
        .insertInto("member")
        .values({ id: `${groupId}/${coachId}`, groupId, accountId: coachId, role: "coach" })
        .execute();
      await trx
        .insertInto("signInSession")
        .values({
          tokenHash: createHash("sha256").update(token).digest("base64url"),
          accountId: coachId,
          createdAt: account.createdAt,
          lastSeenAt: new Date().toISOString(),
          expiresAt: "2099-01-01T00:00:00.000Z",
        })
        .execute();
      await trx
        .insertInto("runner")
        .values(
          runnerIds.map((runnerId, n) => ({
            ...model,
            id: runnerId,
            groupId,
            name: `Runner ${n}`,
            nameKey: `runner ${n}`,
          })),
        )
        .execute();
      for (const runnerId of runnerIds) {
        await trx
          .insertInto("plan")
          .values({ ...plan, id: runnerId, runnerId })
          .execute();
        await trx
          .insertInto("proposalDecision")
          .values({ ...accepted, id: runnerId, runnerId })
          .execute();
        await trx
          .insertInto("runnerState")
          .values({
            runnerId,
            dataVersion: 1,
            computedFor: 1,
            engineVersion: "bench",
            baselineSpm: 160,
            finding: "changed",
            stateJson,
            weekJson,
            computedAt: account.createdAt,
          })
          .execute();
        const recordingIds = Array.from({ length: RUNS_PER_RUNNER }, id);
        await trx
          .insertInto("recording")
          .values(
            recordingIds.map((recordingId) => ({
              ...recording,
              id: recordingId,
              runnerId,
              contentSha256: recordingId,
            })),
          )
          .execute();
        // Windows and traces are read one recording at a time; here only the summaries matter.
        await trx
          .insertInto("analysis")
          .values(recordingIds.map((recordingId) => ({ ...analysis, recordingId, windowsJson: "[]", traceGzip: null })))
          .execute();
      }
    });
    groups.push({ id: groupId, cookie: `spondee=${token}`, runnerIds });
  }
  await analyse(store);
  return groups;
}

async function analyse(store: Store): Promise<void> {
  if (store.sqlite !== undefined) store.sqlite.exec("analyze");
}

function quantiles(values: readonly number[]): { p50: number; p95: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number) => round(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0);
  return { p50: at(0.5), p95: at(0.95) };
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
