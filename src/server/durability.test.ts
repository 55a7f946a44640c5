// Acknowledged means durable: a server under mixed load is killed at random moments; nothing that it said yes to is lost.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createRandom } from "../engine/quantities/random.ts";
import { integrityFaults, openStore, type Store, type StorePlace } from "../store/index.ts";
import { buildChild, type ChildServer, startChild } from "../../tests/child-server.ts";
import { countOf, gpx } from "../../tests/scene.ts";
import { createTestDatabase } from "../../tests/store-variants.ts";
import { sha256 } from "../../tests/test-server.ts";
import { ApiError, type Client, createClient, newId } from "../api/index.ts";

const KILLS = Number(process.env["SPONDEE_KILLS"] ?? (process.env["SPONDEE_LONG"] === undefined ? 6 : 200));
const SEED = Number(process.env["SPONDEE_SEED"] ?? 20_260_305);
const random = createRandom(SEED);
const id = () =>
  newId(
    Date.now(),
    Uint8Array.from({ length: 10 }, () => random.below(256)),
  );
const serverUrl = process.env["SPONDEE_TEST_DATABASE_URL"];
const databases = ["sqlite", ...(serverUrl === undefined ? [] : ["postgres"])] as const;

interface Acknowledged {
  readonly counts: Map<string, number>;
  readonly recordings: Map<string, string>;
  readonly pains: Map<string, number>;
  decision: { week: string; decision: string } | null;
}

describe.each(databases)("killed on %s", (kind) => {
  let folder: string;
  let program: Awaited<ReturnType<typeof buildChild>>;
  let database: Awaited<ReturnType<typeof createTestDatabase>> | undefined;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "spondee-kill-"));
    program = await buildChild();
    if (kind === "postgres" && serverUrl !== undefined) database = await createTestDatabase(serverUrl);
  });
  afterAll(async () => {
    program.remove();
    rmSync(folder, { recursive: true, force: true });
    await database?.drop();
  });
  const place = () => ({ dataDir: folder, ...(database === undefined ? {} : { databaseUrl: database.url }) });
  const storePlace = (): StorePlace =>
    database === undefined
      ? { sqliteFile: join(folder, "spondee.sqlite") }
      : { databaseUrl: database.url, poolSize: 2 };

  test(
    `${KILLS} SIGKILLs under mixed load (seed ${SEED}): nothing acknowledged is lost, nothing is half there`,
    async () => {
      const acknowledged: Acknowledged = { counts: new Map(), recordings: new Map(), pains: new Map(), decision: null };
      let child = await startChild(program.file, place());
      const { cookie, groupId, runnerId } = await firstCoach(child);
      const client = () => cookieClient(child.address, cookie);
      let seed = 100;
      for (let kill = 0; kill < KILLS; kill += 1) {
        const stop = { now: false };
        const workers = [counts, counts, uploads, pains, decisions].map((work) => work(client(), stop));
        // Every other time not before a file got through, however busy the machine is.
        if (kill % 2 === 1) await oneMoreRecording();
        await new Promise((resolve) => setTimeout(resolve, 60 + random.next() * 700));
        child.process.kill("SIGKILL");
        stop.now = true;
        await child.gone;
        await Promise.all(workers);
        child = await startChild(program.file, place());
        await verify(client(), kill);
        await expectWhole(storePlace());
      }
      child.process.kill("SIGTERM");
      expect(await child.gone, "a polite end is an end without error").toEqual({ code: 0, signal: null });
      await expectWhole(storePlace());
      expect(acknowledged.counts.size).toBeGreaterThan(KILLS);
      expect(acknowledged.recordings.size).toBeGreaterThan(0);

      async function oneMoreRecording(): Promise<void> {
        const before = acknowledged.recordings.size;
        await expect
          .poll(() => acknowledged.recordings.size, { timeout: 25_000, interval: 20 })
          .toBeGreaterThan(before);
      }
      async function loop(stop: { now: boolean }, work: () => Promise<void>): Promise<void> {
        while (!stop.now) {
          try {
            await work();
          } catch (error) {
            // Not reached, or cut off: not acknowledged. Anything else is a fault of the server.
            if (error instanceof ApiError && [0, 409, 503].includes(error.problem.status)) return;
            if (error instanceof TypeError) return;
            throw new Error(`the server failed: ${child.errors()}`, { cause: error });
          }
        }
      }
      function counts(to: Client, stop: { now: boolean }): Promise<void> {
        return loop(stop, async () => {
          const countId = id();
          const contacts = 75 + random.below(15);
          await to.call("PUT /api/runners/:runnerId/counts/:countId", {
            params: { runnerId, countId },
            body: countOf(contacts, { purpose: "check" }),
          });
          acknowledged.counts.set(countId, contacts);
        });
      }
      function pains(to: Client, stop: { now: boolean }): Promise<void> {
        return loop(stop, async () => {
          const entryId = id();
          const score = random.below(3);
          await to.call("PUT /api/runners/:runnerId/pain/:entryId", {
            params: { runnerId, entryId },
            body: { score, at: "2026-03-06T08:00:00Z" },
          });
          acknowledged.pains.set(entryId, score);
        });
      }
      function uploads(to: Client, stop: { now: boolean }): Promise<void> {
        return loop(stop, async () => {
          const recordingId = id();
          const bytes = gpx((seed += 1), { minutes: 4 });
          await to.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
            params: { runnerId, recordingId },
            query: { fileName: "run.gpx", phase: "during" },
            file: bytes,
          });
          acknowledged.recordings.set(recordingId, sha256(bytes));
          // Leaves a job behind that the next start has to finish.
          const body = { phase: "during" as const, surface: "outdoor" as const, excluded: false, trimStartS: 10 };
          await to.call("PATCH /api/runners/:runnerId/recordings/:recordingId", {
            params: { runnerId, recordingId },
            body,
          });
        });
      }
      function decisions(to: Client, stop: { now: boolean }): Promise<void> {
        return loop(stop, async () => {
          const decision = acknowledged.decision?.decision === "stay" ? ("ease-back" as const) : ("stay" as const);
          const { weekStartsOn } = await to.call("GET /api/groups/:groupId/week", { params: { groupId }, query: {} });
          const answer = await to.call("PUT /api/groups/:groupId/week/decisions", {
            params: { groupId },
            body: { weekStartsOn, decisions: [{ id: id(), runnerId, decision, reason: "test" }] },
          });
          if (answer.decided.length > 0) acknowledged.decision = { week: weekStartsOn, decision };
        });
      }

      async function verify(from: Client, kill: number): Promise<void> {
        const found = await listAll(from, runnerId);
        for (const [countId, contacts] of acknowledged.counts)
          expect(found.counts.get(countId), `count after kill ${kill}`).toBe(contacts);
        for (const [entryId, score] of acknowledged.pains)
          expect(found.pains.get(entryId), `pain after kill ${kill}`).toBe(score);
        for (const [recordingId, hash] of acknowledged.recordings)
          expect(found.recordings.get(recordingId), `recording after kill ${kill}`).toBe(hash);
      }
    },
    KILLS * 40_000,
  );

  test("what is there after the kills is the same byte for byte, and the jobs are done", async () => {
    const child = await startChild(program.file, place());
    const store = await openStore(storePlace());
    await expect
      .poll(async () => (await store.db.selectFrom("job").select("id").execute()).length, {
        timeout: 90_000,
        interval: 500,
      })
      .toBe(0);
    child.process.kill("SIGTERM");
    await child.gone;
    await store.close();
    await expectWhole(storePlace());
  }, 120_000);
});

/** No half record: bytes with their row and hash, rows with their analysis, changes with all their rows. */
async function expectWhole(place: StorePlace): Promise<void> {
  const store = await openStore(place);
  try {
    await expectWholeStore(store);
  } finally {
    await store.close();
  }
}

async function expectWholeStore(store: Store): Promise<void> {
  if (store.sqlite !== undefined) expect(integrityFaults(store.sqlite)).toEqual([]);
  const { db } = store;
  const recordings = await db.selectFrom("recording").select(["id", "byteCount", "contentSha256"]).execute();
  for (const { id: recordingId, byteCount, contentSha256 } of recordings) {
    const chunks = await db
      .selectFrom("recordingChunk")
      .select("bytes")
      .where("recordingId", "=", recordingId)
      .orderBy("chunkIndex")
      .execute();
    const bytes = Buffer.concat(chunks.map((chunk) => chunk.bytes));
    expect(bytes.length).toBe(byteCount);
    expect(sha256(bytes)).toBe(contentSha256);
  }
  const known = new Set(recordings.map((row) => row.id));
  for (const table of ["recordingChunk", "analysis"] as const) {
    const owners = await db.selectFrom(table).select("recordingId").distinct().execute();
    expect(
      owners.map((row) => row.recordingId).filter((owner) => !known.has(owner)),
      table,
    ).toEqual([]);
    expect(owners.length, table).toBe(known.size);
  }
  const changes = await db.selectFrom("change").select(["id", "rowCount"]).execute();
  const rows = await db
    .selectFrom("changeRow")
    .select("changeId")
    .select((b) => b.fn.countAll<number>().as("n"))
    .groupBy("changeId")
    .execute();
  const counted = new Map(rows.map((row) => [row.changeId, Number(row.n)]));
  for (const change of changes) expect(counted.get(change.id)).toBe(change.rowCount);
  expect(counted.size).toBe(changes.length);
}

async function listAll(client: Client, runnerId: string) {
  const counts = new Map<string, number>();
  const pains = new Map<string, number>();
  const recordings = new Map<string, string>();
  const params = { runnerId };
  for (let after: string | null | undefined; after !== null; ) {
    const page = await client.call("GET /api/runners/:runnerId/counts", {
      params,
      query: { limit: 500, ...(after === undefined ? {} : { after }) },
    });
    for (const item of page.items) counts.set(item.id, item.contacts);
    after = page.next;
  }
  for (let after: string | null | undefined; after !== null; ) {
    const page = await client.call("GET /api/runners/:runnerId/pain", {
      params,
      query: { limit: 500, ...(after === undefined ? {} : { after }) },
    });
    for (const item of page.items) pains.set(item.id, item.score);
    after = page.next;
  }
  for (let after: string | null | undefined; after !== null; ) {
    const page = await client.call("GET /api/runners/:runnerId/recordings", {
      params,
      query: { limit: 500, ...(after === undefined ? {} : { after }) },
    });
    for (const item of page.items) recordings.set(item.id, item.contentSha256);
    after = page.next;
  }
  return { counts, pains, recordings };
}

function cookieClient(address: string, cookie: string): Client {
  return createClient({
    baseUrl: address,
    fetch: (url, init) => fetch(url, { ...init, headers: { ...init.headers, cookie } } as RequestInit) as never,
  });
}

async function firstCoach(child: ChildServer) {
  const response = await fetch(`${child.address}/api/setup`, {
    method: "POST",
    headers: { "content-type": "application/json", "x-spondee": "1" },
    body: JSON.stringify({
      code: child.setupCode,
      signInName: "coach",
      displayName: "Coach",
      password: "long enough password",
    }),
  });
  expect(response.status).toBe(200);
  const cookie = (response.headers.get("set-cookie") ?? "").split(";")[0] ?? "";
  const client = cookieClient(child.address, cookie);
  const groupId = id();
  const runnerId = id();
  const today = new Date().toISOString().slice(0, 10);
  await client.call("PUT /api/groups/:groupId", {
    params: { groupId },
    body: { name: "Invented", startsOn: today, weeks: 10, eveningWeekday: 4, timeZone: "UTC" },
  });
  await client.call("PUT /api/groups/:groupId/runners/:runnerId", {
    params: { groupId, runnerId },
    body: { name: "Ann" },
  });
  for (const contacts of [80, 80])
    await client.call("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: id() },
      body: countOf(contacts),
    });
  await client.call("PUT /api/runners/:runnerId/proposal", { params: { runnerId }, body: {} });
  return { cookie, groupId, runnerId };
}
