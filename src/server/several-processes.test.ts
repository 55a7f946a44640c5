// Several servers on one database: signed in at one is signed in at all, nothing is stored or done twice.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { addJob, openStore, type StorePlace } from "../store/index.ts";
import { countOf, gpx } from "../../tests/scene.ts";
import { createTestDatabase, type StoreVariant } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";
import { createLocalAnalyst } from "./analysis/analyst.ts";
import { createApp } from "./app/create-app.ts";
import { createJobRunner } from "./jobs/job-runner.ts";

const serverUrl = process.env["SPONDEE_TEST_DATABASE_URL"];
const kinds = ["sqlite", ...(serverUrl === undefined ? [] : (["postgres"] as const))] as const;

describe.each(kinds)("two servers on one %s database", (kind) => {
  let place: StorePlace;
  let clean: () => Promise<void>;
  let first: TestServer;
  let second: Awaited<ReturnType<typeof createApp>>;
  let secondDeps: TestServer["deps"];
  beforeEach(async () => {
    if (kind === "postgres") {
      const database = await createTestDatabase(serverUrl ?? "");
      place = { databaseUrl: database.url, poolSize: 4 };
      clean = database.drop;
    } else {
      const folder = mkdtempSync(join(tmpdir(), "spondee-two-"));
      place = { sqliteFile: join(folder, "spondee.sqlite") };
      clean = () => Promise.resolve(rmSync(folder, { recursive: true, force: true }));
    }
    const variant: StoreVariant = {
      name: kind,
      open: async () => {
        const store = await openStore(place);
        return { store, close: () => store.close() };
      },
    };
    first = await startTestServer(variant);
    secondDeps = { ...first.deps, store: await openStore(place), analyst: createLocalAnalyst("test-1") };
    second = await createApp(secondDeps);
  });
  afterEach(async () => {
    await second.close();
    await secondDeps.store.close();
    await first.close();
    await clean();
  });

  test("a session of one holds at the other, and ends at both", async () => {
    const groupId = await first.group();
    const signedIn = await first.nobody.call("POST /api/session", {
      body: { signInName: "coach", password: "long enough password" },
    });
    const cookie = String(signedIn.headers["set-cookie"]).split(";")[0] ?? "";
    const ask = () => second.inject({ url: `/api/groups/${groupId}`, headers: { host: "localhost", cookie } });
    expect((await ask()).statusCode).toBe(200);
    await first.coach.ok("DELETE /api/sessions");
    expect((await ask()).statusCode).toBe(401);
  });

  test("guesses at both are braked together, and do not name whom they were for", async () => {
    const guessAt = async (app: typeof second, password: string) => {
      const answer = await app.inject({
        method: "POST",
        url: "/api/session",
        headers: { host: "localhost", "x-spondee": "1" },
        payload: { signInName: "coach", password },
      });
      return answer.statusCode;
    };
    const statuses: number[] = [];
    for (let tries = 0; tries < 6; tries += 1)
      statuses.push(await guessAt(tries % 2 === 0 ? first.app : second, `wrong ${tries}`));
    expect(statuses).toEqual([401, 401, 401, 401, 401, 429]);
    expect(await guessAt(first.app, "long enough password")).toBe(429);
    const rows = await first.deps.store.db.selectFrom("wrongGuess").selectAll().execute();
    expect(rows.map((row) => Number(row.count))).toEqual([5]);
    expect(JSON.stringify(rows)).not.toContain("coach");
    first.clock.set("2026-03-05T19:00:00Z");
    expect(await guessAt(second, "long enough password")).toBe(200);
    expect(await first.deps.store.db.selectFrom("wrongGuess").selectAll().execute()).toEqual([]);
  });

  test("the same file sent to both at once is stored once; fifty counts through both are fifty", async () => {
    const groupId = await first.group();
    const runnerId = await first.runner(groupId);
    const signedIn = await first.nobody.call("POST /api/session", {
      body: { signInName: "coach", password: "long enough password" },
    });
    const cookie = String(signedIn.headers["set-cookie"]).split(";")[0] ?? "";
    const appOf = (index: number) => (index % 2 === 0 ? first.app : second);
    const bytes = gpx(1);
    const sent = await Promise.all(
      Array.from({ length: 6 }, (_, index) =>
        appOf(index).inject({
          method: "PUT",
          url: `/api/runners/${runnerId}/recordings/${first.id()}?fileName=run.gpx`,
          headers: { host: "localhost", cookie, "x-spondee": "1", "content-type": "application/octet-stream" },
          payload: bytes,
        }),
      ),
    );
    expect(
      sent.map((answer) => answer.json<{ outcome: string }>().outcome).filter((outcome) => outcome === "stored"),
    ).toHaveLength(1);
    const counts = await Promise.all(
      Array.from({ length: 50 }, (_, index) =>
        appOf(index).inject({
          method: "PUT",
          url: `/api/runners/${runnerId}/counts/${first.id()}`,
          headers: { host: "localhost", cookie, "x-spondee": "1" },
          payload: countOf(75 + (index % 10)),
        }),
      ),
    );
    expect(counts.map((answer) => answer.statusCode)).toEqual(Array.from({ length: 50 }, () => 200));
    const { total } = await first.coach.ok("GET /api/runners/:runnerId/counts", {
      params: { runnerId },
      query: { limit: 1 },
    });
    expect(total).toBe(50);
    const state = await first.deps.store.db
      .selectFrom("runnerState")
      .select("dataVersion")
      .where("runnerId", "=", runnerId)
      .executeTakeFirst();
    // One for the runner, one for the recording, fifty for the counts: no write was lost to another.
    expect(state?.dataVersion).toBe(52);
  });

  test("each job is done by one of them", async () => {
    const done: string[] = [];
    const handlers = {
      note: (payload: unknown) => {
        done.push((payload as { name: string }).name);
        return Promise.resolve();
      },
    };
    await first.deps.store.write(async (trx) => {
      for (let index = 0; index < 30; index += 1)
        await addJob(trx, {
          id: `j${index}`,
          jobKey: `j${index}`,
          kind: "note",
          payload: { name: `j${index}` },
          at: "2026-03-05T17:00:00.000Z",
        });
    });
    const runners = [first.deps, secondDeps].map((deps) => createJobRunner(deps, handlers));
    const counts = await Promise.all(runners.map((runner) => runner.drain()));
    expect((counts[0] ?? 0) + (counts[1] ?? 0)).toBe(30);
    expect(new Set(done).size).toBe(30);
    await Promise.all(runners.map((runner) => runner.stop()));
  });
});
