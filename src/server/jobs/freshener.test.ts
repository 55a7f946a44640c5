// What was computed is kept by what it was computed from, and is computed again before anybody asks.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, gpx } from "../../../tests/scene.ts";
import { storeVariants } from "../../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../../tests/test-server.ts";
import { createLocalAnalyst } from "../analysis/analyst.ts";
import { markOutdatedStates } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { createFreshener } from "./freshener.ts";

describe.each(storeVariants)("computed states on $name", (variant) => {
  let server: TestServer;
  let groupId: string;
  let runnerId: string;
  let evaluations: number;
  let deps: Deps;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
    runnerId = await server.runner(groupId);
    evaluations = 0;
    deps = countingDeps("one");
  });
  afterEach(() => server.close());

  function countingDeps(engineVersion: string): Deps {
    const analyst = createLocalAnalyst(engineVersion);
    return {
      ...server.deps,
      analyst: {
        ...analyst,
        evaluate: (input) => {
          evaluations += 1;
          return analyst.evaluate(input);
        },
      },
    };
  }
  const freshen = (of = deps) => createFreshener(of).freshenAll();
  const stale = async () =>
    (
      await server.deps.store.db
        .selectFrom("runnerState")
        .select("runnerId")
        .whereRef("computedFor", "!=", "dataVersion")
        .execute()
    ).length;
  const count = (purpose: "baseline" | "check") =>
    server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(82, { purpose }),
    });

  test("pain and checks are written without computing anything again; a baseline count is not", async () => {
    await count("baseline");
    await freshen();
    expect([evaluations, await stale()]).toEqual([1, 0]);
    await count("check");
    await server.coach.ok("PUT /api/runners/:runnerId/pain/:entryId", {
      params: { runnerId, entryId: server.id() },
      body: { score: 1, at: "2026-03-05T08:00:00Z" },
    });
    expect(await stale()).toBe(1);
    await freshen();
    expect([evaluations, await stale()]).toEqual([1, 0]);
    await count("baseline");
    await freshen();
    expect([evaluations, await stale()]).toEqual([2, 0]);
  });

  test("a label of a recording, a setting of the group and another engine are each computed again", async () => {
    const recordingId = server.id();
    await server.coach.ok("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId },
      query: { fileName: "run.gpx", phase: "before" },
      file: gpx(1, { minutes: 6 }),
    });
    await freshen();
    expect(evaluations).toBe(1);
    await server.coach.ok("PATCH /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId },
      body: { phase: "during", surface: "outdoor", excluded: false, trimStartS: 0 },
    });
    await server.jobs.drain();
    await freshen();
    expect(evaluations).toBe(2);
    await server.coach.ok("PUT /api/groups/:groupId/settings", {
      params: { groupId },
      body: { thresholds: { bandShare: 0.02 } },
    });
    expect(await stale()).toBe(1);
    await freshen();
    expect(evaluations).toBe(3);
    const next = countingDeps("two");
    await next.store.write((trx) => markOutdatedStates(trx, "two"));
    await freshen(next);
    expect([evaluations, await stale()]).toEqual([4, 0]);
  });

  test("one that cannot be computed does not keep the others from it", async () => {
    await server.runner(groupId);
    await server.runner(groupId);
    const { analyst } = deps;
    await freshen({
      ...deps,
      analyst: { ...analyst, evaluate: (input) => (evaluations === 0 ? fails() : analyst.evaluate(input)) },
    });
    expect(await stale()).toBe(1);

    function fails(): never {
      evaluations += 1;
      throw new Error("cannot");
    }
  });
});
