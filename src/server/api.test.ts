import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";

const count = (more: object = {}) => ({
  way: "contacts-in-time" as const,
  contacts: 80,
  seconds: 60,
  feet: "one" as const,
  measuredAt: "2026-03-05T18:05:00Z",
  ...more,
});

describe.each(storeVariants)("counting to a plan on $name", (variant) => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer(variant);
  });
  afterEach(() => server.close());

  test("two counts make a baseline, a proposal, a plan, a beat and a calendar", async () => {
    const { coach } = server;
    const groupId = await server.group();
    const runnerId = await server.runner(groupId);
    expect(await coach.ok("GET /api/runners/:runnerId/baseline", { params: { runnerId } })).toMatchObject({
      kind: "not-enough",
    });
    for (const contacts of [80, 81])
      await coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
        params: { runnerId, countId: server.id() },
        body: count({ contacts, lapLengthM: 400, lapTimeS: 150 }),
      });
    const baseline = await coach.ok("GET /api/runners/:runnerId/baseline", { params: { runnerId } });
    expect(baseline).toMatchObject({ kind: "baseline", speedMps: 400 / 150 });
    const { computed } = await coach.ok("GET /api/runners/:runnerId/proposal", { params: { runnerId } });
    expect(computed.advice).toBe("change");
    expect(computed.reasons.length).toBeGreaterThan(0);
    const accepted = await coach.ok("PUT /api/runners/:runnerId/proposal", { params: { runnerId }, body: {} });
    expect(accepted.item.accepted?.targetSpm).toBe(computed.aimSpm);
    const plan = await coach.ok("GET /api/runners/:runnerId/plan", { params: { runnerId } });
    expect(plan.kind).toBe("plan");
    const ics = await coach.call("GET /api/runners/:runnerId/plan.ics", { params: { runnerId } });
    expect(ics.raw.toString("utf8")).toContain("BEGIN:VEVENT\r\n");
    const events = await coach.ok("GET /api/runners/:runnerId/beat-events", { params: { runnerId }, query: {} });
    expect(events.beatCount).toBeGreaterThan(100);
    const wav = await coach.call("GET /api/runners/:runnerId/track", {
      params: { runnerId },
      query: { stepRateSpm: 170, minutes: 0.1, format: "wav" },
    });
    expect(wav.raw.subarray(0, 4).toString()).toBe("RIFF");
    expect(Number(wav.headers["content-length"])).toBe(wav.raw.length);
    const lanes = await coach.ok("GET /api/groups/:groupId/lanes", { params: { groupId }, query: {} });
    expect(lanes.lanes).toHaveLength(1);
    // Pain that meets D1 keeps the runner out of the lanes before anybody has decided; better news brings them back.
    const inLanes = async () =>
      (await coach.ok("GET /api/groups/:groupId/lanes", { params: { groupId }, query: {} })).lanes.length;
    const log = (score: number, minute: number) =>
      coach.ok("PUT /api/runners/:runnerId/pain/:entryId", {
        params: { runnerId, entryId: server.id() },
        body: { score, at: new Date(server.clock.now().getTime() + minute * 60_000).toISOString() },
      });
    await log(6, 0);
    expect(await inLanes()).toBe(0);
    await log(1, 1);
    expect(await inLanes()).toBe(1);
    const week = await coach.ok("GET /api/groups/:groupId/week", { params: { groupId }, query: {} });
    expect(week.rows).toHaveLength(1);
    const roster = await coach.ok("GET /api/groups/:groupId/roster", { params: { groupId }, query: {} });
    expect(roster.items[0]?.baselineSpm?.estimate).toBeCloseTo(161, 0);
  });
});
