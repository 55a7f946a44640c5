import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { storeVariants } from "../../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../../tests/test-server.ts";
import { demoPeople } from "./demo-people.ts";

describe("the invented demo group", () => {
  let server: TestServer;
  let groupId: string;
  beforeAll(async () => {
    const variant = storeVariants[0];
    if (variant === undefined) throw new Error("no database to test on");
    server = await startTestServer(variant, { at: "2026-03-29T12:00:00Z" });
    ({ groupId } = await server.coach.ok("POST /api/demo"));
  }, 120_000);
  afterAll(() => server.close());

  test("shows its situations, all computed", async () => {
    const { coach } = server;
    const group = await coach.ok("GET /api/groups/:groupId", { params: { groupId } });
    expect(group).toMatchObject({ invented: true, runnerCount: demoPeople.length });
    const week = await coach.ok("GET /api/groups/:groupId/week", { params: { groupId }, query: {} });
    const row = (name: string) => week.rows.find((entry) => entry.name === name);
    expect(week.weekNumber).toBe(6);
    expect(week.rows[0]?.name).toBe("Bram Whitlock");
    expect(row("Bram Whitlock")?.proposed).toMatchObject({ decision: "stop-and-refer", rule: "D1" });
    expect(row("Noor Castellan")?.proposed).toMatchObject({ decision: "ease-back", rule: "D2" });
    expect(row("Sunniva Hale")?.sentNothing).toBe(true);
    expect(row("Desta Moreau")?.proposed?.rule).toBe("D6");
    expect(row("Tomas Redfern")?.proposed?.decision).not.toBe("move-on");
    const roster = await coach.ok("GET /api/groups/:groupId/roster", { params: { groupId }, query: {} });
    const of = (name: string) => roster.items.find((entry) => entry.runner.name === name);
    expect(of("Oskar Pell")?.advice).toBe("leave-alone");
    expect(of("Ilse Varga")?.finding).toBe("changed");
    expect(of("Tomas Redfern")?.finding).toBe("faster-only");
    expect(of("Runa Ashdown")?.baselineSpm).toBeNull();
  });

  test("goes in one call, and leaves nothing", async () => {
    const { coach } = server;
    await coach.ok("DELETE /api/demo");
    expect((await coach.ok("GET /api/groups", { query: {} })).total).toBe(0);
    expect((await coach.call("GET /api/groups/:groupId", { params: { groupId } })).status).toBe(404);
    for (const table of [
      "runner",
      "recording",
      "recordingChunk",
      "analysis",
      "footCount",
      "change",
      "changeRow",
    ] as const)
      expect(await server.deps.store.db.selectFrom(table).selectAll().execute(), table).toEqual([]);
  });
});
