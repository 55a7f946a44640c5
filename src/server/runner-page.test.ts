import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, gpx, makeScene, type Scene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { type Person, sha256, startTestServer, type TestServer } from "../../tests/test-server.ts";

describe.each(storeVariants)("the phone page on $name", (variant) => {
  let server: TestServer;
  let scene: Scene;
  let phone: Person;
  const at = "2026-03-05T19:30:00Z";
  beforeEach(async () => {
    server = await startTestServer(variant);
    scene = await makeScene(server);
    phone = server.phone(scene.token);
  });
  afterEach(() => server.close());

  test("today has the session, the beat's cap, and two weeks for days without a signal", async () => {
    const today = await phone.ok("GET /api/runner/today");
    expect(today).toMatchObject({
      name: "Odalys Brandt",
      today: "2026-03-05",
      stopped: false,
      coachNames: ["Coach Fenwick"],
    });
    expect(today.session?.on).toBe("2026-03-05");
    expect(today.session?.inPerson).toBe(true);
    expect(today.upcoming.length).toBeGreaterThan(2);
    for (const entry of today.upcoming) expect(entry.on > "2026-03-05" && entry.on <= "2026-03-19").toBe(true);
    expect(today.capSpm).toBeGreaterThan(today.targetSpm ?? Infinity);
    expect(today.paceTable.length).toBeGreaterThan(3);
    expect(today.cautions.length).toBeGreaterThan(0);
  });

  test("nothing is taken in without consent, except pain", async () => {
    await phone.ok("PUT /api/runner/consent", { body: { given: false, textVersion: "1", at } });
    const refused = [
      await phone.call("PUT /api/runner/counts/:countId", { params: { countId: server.id() }, body: countOf(80) }),
      await phone.call("PUT /api/runner/reports/:entryId", { params: { entryId: server.id() }, body: { at } }),
      await phone.call("PUT /api/runner/recordings/:recordingId", {
        params: { recordingId: server.id() },
        query: { fileName: "a.gpx" },
        file: gpx(50),
      }),
    ];
    expect(refused.map((answer) => [answer.status, answer.problem.code])).toEqual(
      Array.from({ length: 3 }, () => [403, "consent-needed"]),
    );
    expect(
      (await phone.call("PUT /api/runner/pain/:entryId", { params: { entryId: server.id() }, body: { score: 5, at } }))
        .status,
    ).toBe(200);
    const rows = await server.deps.store.db.selectFrom("consent").select("given").orderBy("at").execute();
    expect(
      rows.map((row) => row.given),
      "each answer is kept",
    ).toEqual([1, 0]);
  });

  test("consent taken back counts, also from a phone whose clock was ahead when it was given", async () => {
    await phone.ok("PUT /api/runner/consent", { body: { given: true, textVersion: "1", at: "2027-01-01T00:00:00Z" } });
    await phone.ok("PUT /api/runner/consent", { body: { given: false, textVersion: "1", at } });
    expect((await phone.ok("GET /api/runner/today")).consent?.given).toBe(false);
    expect(
      (await phone.call("PUT /api/runner/counts/:countId", { params: { countId: server.id() }, body: countOf(80) }))
        .status,
    ).toBe(403);
  });

  test("[D8] the page knows whether anyone said this week what hurt; what a phone dates into the future is of now", async () => {
    await server.deps.store.db.deleteFrom("pain").execute();
    const { week, serverTime } = await phone.ok("GET /api/runner/today");
    expect(week).toEqual({
      startsOn: "2026-03-05",
      painAnswered: false,
      askCalfAchilles: false,
      calfAchillesAnswered: false,
    });
    const nowMs = server.deps.clock.now().getTime();
    expect(Math.abs(Date.parse(serverTime) - nowMs)).toBeLessThan(1000);
    const say = (score: number, when: string, place?: string) =>
      phone.ok("PUT /api/runner/pain/:entryId", {
        params: { entryId: server.id() },
        body: { score, at: when, ...(place === undefined ? {} : { place }) },
      });
    await say(0, "2026-03-04T10:00:00Z");
    expect((await phone.ok("GET /api/runner/today")).week.painAnswered).toBe(false);
    await say(0, "2031-01-01T00:00:00Z", "calf and Achilles");
    const after = await phone.ok("GET /api/runner/today");
    expect(after.week).toMatchObject({ painAnswered: true, calfAchillesAnswered: true });
    const rows = await server.deps.store.db.selectFrom("pain").select("at").orderBy("at", "desc").execute();
    expect(Math.abs(Date.parse(rows[0]?.at ?? "") - nowMs)).toBeLessThan(1000);
  });

  test("what is sent twice is there once, byte for byte, and the page can see it", async () => {
    const bytes = gpx(50);
    const recordingId = server.id();
    const send = () =>
      phone.ok("PUT /api/runner/recordings/:recordingId", {
        params: { recordingId },
        query: { fileName: "mine.gpx", sha256: sha256(bytes) },
        file: bytes,
      });
    expect(await send()).toEqual({
      outcome: "stored",
      recordingId,
      contentSha256: sha256(bytes),
      byteCount: bytes.length,
    });
    expect((await send()).outcome).toBe("already-stored");
    const countId = server.id();
    const count = () => phone.ok("PUT /api/runner/counts/:countId", { params: { countId }, body: countOf(80) });
    expect([(await count()).outcome, (await count()).outcome]).toEqual(["stored", "already-stored"]);
    const entryId = server.id();
    const report = () =>
      phone.ok("PUT /api/runner/reports/:entryId", {
        params: { entryId },
        body: { at, effortRating: 3, note: "fine" },
      });
    expect([(await report()).outcome, (await report()).outcome]).toEqual(["stored", "already-stored"]);
    expect(await phone.ok("GET /api/runner/sent")).toMatchObject({
      countCount: 3,
      reportCount: 1,
      recordings: [{ id: recordingId }, {}],
    });
  });

  test("a recording that the runner deletes is gone at once, history included", async () => {
    const recordingId = server.id();
    await phone.ok("PUT /api/runner/recordings/:recordingId", {
      params: { recordingId },
      query: { fileName: "secret-place.gpx" },
      file: gpx(50),
    });
    await phone.ok("DELETE /api/runner/recordings/:recordingId", { params: { recordingId } });
    const { db } = server.deps.store;
    for (const table of ["recording", "recordingChunk", "analysis", "changeRow"] as const)
      expect(JSON.stringify(await db.selectFrom(table).selectAll().execute()), table).not.toMatch(
        new RegExp(`${recordingId}|secret-place`),
      );
  });

  test("deleting oneself ends the link and leaves the coach only that it happened", async () => {
    await phone.ok("DELETE /api/runner/me");
    expect((await phone.call("GET /api/runner/today")).status).toBe(401);
    const roster = await server.coach.ok("GET /api/groups/:groupId/roster", {
      params: { groupId: scene.groupId },
      query: {},
    });
    expect(roster.total).toBe(0);
    const audit = await server.coach.ok("GET /api/audit", { query: {} });
    expect(audit.items[0]?.what).toBe("runner-deleted-themselves");
  });

  test("a stopped plan has no session and no beat on the phone", async () => {
    await phone.ok("PUT /api/runner/pain/:entryId", { params: { entryId: server.id() }, body: { score: 8, at } });
    const { weekStartsOn } = await server.coach.ok("GET /api/groups/:groupId/week", {
      params: { groupId: scene.groupId },
      query: {},
    });
    await server.coach.ok("PUT /api/groups/:groupId/week/decisions", {
      params: { groupId: scene.groupId },
      body: { weekStartsOn, decisions: [{ id: server.id(), runnerId: scene.runnerId, decision: "stop-and-refer" }] },
    });
    expect(await phone.ok("GET /api/runner/today")).toMatchObject({
      stopped: true,
      session: null,
      upcoming: [],
      targetSpm: null,
    });
    expect((await phone.call("GET /api/runner/beat-events", { query: {} })).problem.code).toBe("stopped");
  });
});
