import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, gpx } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";

describe.each(storeVariants)("the week on $name", (variant) => {
  let server: TestServer;
  let groupId: string;
  let runnerId: string;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
    runnerId = await server.runner(groupId, "Ann");
    for (const contacts of [80, 80])
      await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
        params: { runnerId, countId: server.id() },
        body: countOf(contacts),
      });
    await server.coach.ok("PUT /api/runners/:runnerId/proposal", { params: { runnerId }, body: {} });
  });
  afterEach(() => server.close());

  const week = () =>
    server.coach.ok("GET /api/groups/:groupId/week", { params: { groupId }, query: { on: "2026-03-05" } });
  const plan = async () => {
    const answer = await server.coach.ok("GET /api/runners/:runnerId/plan", { params: { runnerId } });
    if (answer.kind !== "plan") throw new Error("no plan");
    return answer;
  };
  const decide = (decision: "move-on" | "stay" | "ease-back" | "stop-and-refer", more: object = {}) =>
    server.coach.ok("PUT /api/groups/:groupId/week/decisions", {
      params: { groupId },
      body: { weekStartsOn: "2026-03-05", decisions: [{ id: server.id(), runnerId, decision, ...more }] },
    });
  const pain = (score: number, more: object = {}) =>
    server.coach.ok("PUT /api/runners/:runnerId/pain/:entryId", {
      params: { runnerId, entryId: server.id() },
      body: { score, at: "2026-03-06T08:00:00Z", ...more },
    });

  test("[D1] pain on one spot of bone stops the plan; [D10] overruling it needs a typed reason and stays marked", async () => {
    await pain(3, { signs: ["bone-spot"] });
    expect((await week()).rows[0]?.proposed).toMatchObject({ decision: "stop-and-refer", rule: "D1" });
    const refused = await decide("stay");
    expect(refused.decided).toEqual([]);
    expect(refused.refused[0]?.because).toContain("Write why");
    const overruled = await decide("stay", { reason: "Seen by the physiotherapist on Friday." });
    expect(overruled.decided[0]).toMatchObject({ decision: "stay", proposed: "stop-and-refer", overruled: true });
    expect((await plan()).status).toBe("running");
  });

  test("[D1] confirming a stop ends the beat, everywhere; undo brings the plan back", async () => {
    await pain(8);
    const stopped = await decide("stop-and-refer");
    expect((await plan()).status).toBe("stopped");
    const track = await server.coach.call("GET /api/runners/:runnerId/beat-events", {
      params: { runnerId },
      query: {},
    });
    expect(track.problem.code).toBe("stopped");
    const lanes = await server.coach.ok("GET /api/groups/:groupId/lanes", { params: { groupId }, query: {} });
    expect(lanes.lanes).toEqual([]);
    expect(lanes.without[0]?.because).toContain("stopped");
    await server.coach.ok("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: { groupId, changeId: stopped.changeId ?? "" },
    });
    expect((await plan()).status).toBe("running");
    expect((await week()).rows[0]?.decided).toBeNull();
  });

  test("confirming twice is confirming once, and the plan moves once", async () => {
    const id = server.id();
    const once = () =>
      server.coach.ok("PUT /api/groups/:groupId/week/decisions", {
        params: { groupId },
        body: {
          weekStartsOn: "2026-03-05",
          decisions: [{ id, runnerId, decision: "move-on", reason: "She is ready." }],
        },
      });
    const first = await once();
    const moved = await plan();
    const second = await once();
    expect(second.changeId).toBeNull();
    expect(second.decided.map((entry) => entry.id)).toEqual(first.decided.map((entry) => entry.id));
    expect(await plan()).toEqual(moved);
    expect(moved.stages[1]?.stepRateSpm).toBeGreaterThan(moved.stages[0]?.stepRateSpm ?? 0);
  });

  test("a decision changed from move on to stay lays the same rest as stay alone", async () => {
    await decide("move-on", { reason: "ready" });
    await decide("stay");
    const changed = await plan();
    expect(changed.stages[1]?.kind).toBe("repeat");
    expect(changed.stages[1]?.stepRateSpm).toBe(changed.stages[0]?.stepRateSpm);
  });

  test("[D4] nothing measured: stay, and it is said; pain comes before everything", async () => {
    const quiet = await server.runner(groupId, "Quiet");
    const rows = (await week()).rows;
    expect(rows.find((row) => row.runnerId === quiet)).toMatchObject({
      proposed: null,
      sentNothing: true,
      evidence: "No baseline yet.",
    });
    await server.coach.ok("PUT /api/runners/:runnerId/pain/:entryId", {
      params: { runnerId: quiet, entryId: server.id() },
      body: { score: 2, at: "2026-03-06T08:00:00Z" },
    });
    expect((await week()).rows[0]?.runnerId).toBe(quiet);
    const shortened = await server.coach.ok("GET /api/groups/:groupId/week", {
      params: { groupId },
      query: { on: "2026-03-05", limit: 1 },
    });
    expect(shortened).toMatchObject({ total: 2, next: "1" });
  });

  test("a date that no week of the programme begins on is told, and strangers are refused by name", async () => {
    const odd = await server.coach.call("PUT /api/groups/:groupId/week/decisions", {
      params: { groupId },
      body: { weekStartsOn: "2026-03-06", decisions: [{ id: server.id(), runnerId, decision: "stay" }] },
    });
    expect(odd.problem.code).toBe("not-a-week");
    const stranger = await server.coach.ok("PUT /api/groups/:groupId/week/decisions", {
      params: { groupId },
      body: { weekStartsOn: "2026-03-05", decisions: [{ id: server.id(), runnerId: server.id(), decision: "stay" }] },
    });
    expect(stranger.refused[0]?.because).toBe("not in this group");
  });

  test("an aim above the cap is refused with the number; the coach's own lower aim is kept with its reason", async () => {
    const above = await server.coach.call("PUT /api/runners/:runnerId/proposal", {
      params: { runnerId },
      body: { targetSpm: 190 },
    });
    expect(above.status).toBe(422);
    const own = await server.coach.ok("PUT /api/runners/:runnerId/proposal", {
      params: { runnerId },
      body: { targetSpm: 165, reason: "Slowly." },
    });
    expect(own.item.accepted).toMatchObject({ changedByCoach: true, reason: "Slowly.", targetSpm: 165 });
    expect((await plan()).goalSpm).toBe(165);
  });

  test("a faster run slides along the runner's own line: faster only, with the split to see it", async () => {
    for (const [index, phase] of (["before", "before", "after", "after"] as const).entries()) {
      const faster = phase === "after" ? 1.1 : 1;
      await server.coach.ok("PUT /api/runners/:runnerId/recordings/:recordingId", {
        params: { runnerId, recordingId: server.id() },
        query: { fileName: "r.gpx", phase },
        file: gpx(20 + index, { speedMps: 2.7 * faster, stepRateSpm: 160 * faster ** 0.15, minutes: 20, daySd: 0.002 }),
      });
    }
    const comparison = await server.coach.ok("GET /api/runners/:runnerId/comparison", {
      params: { runnerId },
      query: {},
    });
    expect(comparison).toMatchObject({ kind: "comparison", finding: "faster-only" });
    if (comparison.kind !== "comparison") return;
    expect(comparison.speedChangePercent).toBeCloseTo(10, 0);
    const { lnSpeed, lnStepRate, lnStepLength } = comparison.split;
    expect(lnStepRate + lnStepLength).toBeCloseTo(lnSpeed, 12);
    expect(comparison.before.runs).toHaveLength(2);
  });
});
