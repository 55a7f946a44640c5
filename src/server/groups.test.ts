import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, makeScene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";

describe.each(storeVariants)("groups, counts and history on $name", (variant) => {
  let server: TestServer;
  let groupId: string;
  beforeEach(async () => {
    server = await startTestServer(variant);
    groupId = await server.group();
  });
  afterEach(() => server.close());
  const group = () => ({ params: { groupId } });
  const roster = (query: object = {}) => server.coach.ok("GET /api/groups/:groupId/roster", { ...group(), query });
  const undo = (changeId: string | null) =>
    server.coach.call("POST /api/groups/:groupId/changes/:changeId/undo", {
      params: { groupId, changeId: changeId ?? "" },
    });

  test("putting a group again changes nothing, putting it differently is a change with both sides kept", async () => {
    const body = { name: "Invented group", startsOn: "2026-03-05", weeks: 10, eveningWeekday: 4, timeZone: "UTC" };
    expect((await server.coach.ok("PUT /api/groups/:groupId", { ...group(), body })).changeId).toBeNull();
    const { changeId } = await server.coach.ok("PUT /api/groups/:groupId", {
      ...group(),
      body: { ...body, weeks: 12 },
    });
    const detail = await server.coach.ok("GET /api/groups/:groupId/changes/:changeId", {
      params: { groupId, changeId: changeId ?? "" },
    });
    expect(detail.rows[0]).toMatchObject({ before: { weeks: 10 }, after: { weeks: 12 } });
    expect((await undo(changeId)).status).toBe(200);
    expect((await server.coach.ok("GET /api/groups/:groupId", group())).weeks).toBe(10);
    expect((await undo(changeId)).problem.code).toBe("already-undone");
    const zone = await server.coach.call("PUT /api/groups/:groupId", {
      ...group(),
      body: { ...body, timeZone: "Mars/Olympus" },
    });
    expect(zone.problem.code).toBe("unknown-time-zone");
  });

  test("a roster is looked at first, named row and column where it is wrong, then added and taken back as one", async () => {
    await server.runner(groupId, "Ann Lee");
    const csv =
      'Name;Height (cm);Leg length;History;Weight (kg)\nBo Ek;182,5;92;achilles;80\n"ann  lee";170;;;\nCy Dahl;1820;;bone;\nCy Dahl;;;;\n;170;;;\nDi Oh;175;;ankle;\n';
    const preview = await server.coach.ok("POST /api/groups/:groupId/roster/preview", { ...group(), body: { csv } });
    expect(preview.columns.map((column) => column.field)).toEqual([
      "name",
      "heightM",
      "legLengthM",
      "history",
      "massKg",
    ]);
    expect(preview.rows[0]?.runner).toEqual({
      name: "Bo Ek",
      heightM: 1.825,
      legLengthM: 0.92,
      history: ["achilles"],
      massKg: 80,
    });
    expect(preview.rows[1]?.duplicateOf?.runnerId).toBeTruthy();
    expect(preview.rows[2]?.problems[0]).toMatchObject({
      code: "roster-number",
      where: { row: 3, column: "Height (cm)" },
      got: "1820",
    });
    expect(preview.rows[3]?.duplicateOf?.row).toBe(3);
    expect(preview.rows[4]?.problems[0]).toMatchObject({ code: "roster-name-missing", where: { row: 5 } });
    expect(preview.rows[5]?.problems[0]).toMatchObject({
      code: "roster-history",
      where: { row: 6, column: "History" },
    });
    expect(preview.importable).toBe(1);
    expect((await roster()).total, "looking stores nothing").toBe(1);
    const runners = [
      { id: server.id(), runner: preview.rows[0]?.runner ?? { name: "" } },
      { id: server.id(), runner: { name: "Cy Dahl" } },
    ];
    const added = await server.coach.ok("POST /api/groups/:groupId/roster", { ...group(), body: { runners } });
    expect(added.added).toBe(2);
    const again = await server.coach.ok("POST /api/groups/:groupId/roster", { ...group(), body: { runners } });
    expect(again).toEqual({ added: 0, changeId: null });
    expect((await roster()).total).toBe(3);
    expect((await undo(added.changeId)).status).toBe(200);
    expect((await roster()).total).toBe(1);
  });

  test("an import cannot be undone once something hangs on one of its runners, and says so", async () => {
    const id = server.id();
    const added = await server.coach.ok("POST /api/groups/:groupId/roster", {
      ...group(),
      body: { runners: [{ id, runner: { name: "Bo" } }] },
    });
    await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId: id, countId: server.id() },
      body: countOf(80),
    });
    const refused = await undo(added.changeId);
    expect(refused.status).toBe(409);
    expect(refused.problem.code).toBe("changed-since");
    expect((await roster()).total).toBe(1);
  });

  test("unreadable rosters are told, not guessed", async () => {
    const preview = (csv: string) =>
      server.coach.ok("POST /api/groups/:groupId/roster/preview", { ...group(), body: { csv } });
    expect((await preview("a,b\n1,2\n")).problems[0]?.code).toBe("roster-no-name");
    expect((await preview("\n\n")).problems[0]?.code).toBe("roster-empty");
    expect((await preview('name\n"Ann')).problems[0]?.code).toBe("roster-quotes");
    expect((await preview(`name\n${"x\n".repeat(600)}`)).problems[0]?.code).toBe("roster-too-long");
    const mapped = await server.coach.ok("POST /api/groups/:groupId/roster/preview", {
      ...group(),
      body: { csv: "who\nAnn\n", columns: { who: "name" } },
    });
    expect(mapped.importable).toBe(1);
  });

  test("an evening's counts: each by itself, safe to send again", async () => {
    const runnerId = await server.runner(groupId, "Ann");
    const counts = [80, 81, 160, 0, -3, 9999, 78.5].map((contacts) => ({
      id: server.id(),
      runnerId,
      count: countOf(contacts),
    }));
    const put = () => server.coach.ok("PUT /api/groups/:groupId/counts", { ...group(), body: { counts } });
    const first = await put();
    expect(first.outcomes.map((entry) => entry.outcome)).toEqual([
      "stored",
      "stored",
      "refused",
      "refused",
      "refused",
      "refused",
      "refused",
    ]);
    expect(first.outcomes[2]?.problems[0]?.code, "a both-feet number under one foot").toBe("feet-query");
    expect((await put()).outcomes.slice(0, 2).map((entry) => entry.outcome)).toEqual([
      "already-stored",
      "already-stored",
    ]);
    const list = await server.coach.ok("GET /api/runners/:runnerId/counts", { params: { runnerId }, query: {} });
    expect(list.total).toBe(2);
    const single = await server.coach.call("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(160),
    });
    expect(single.status).toBe(422);
    const meant = await server.coach.call("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(56, { feet: "one", confirmed: true }),
    });
    expect(meant.status).toBe(200);
  });

  test("published: a minute of 80 one-foot contacts says 160 ± 2·60/(60√6) of both feet (triangular posterior)", async () => {
    const runnerId = await server.runner(groupId, "Ann");
    const { item } = await server.coach.ok("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(80),
    });
    expect(item.stepRateSpm.estimate).toBeCloseTo(160, 9);
    expect(item.stepRateSpm.standardError).toBeCloseTo(2 / Math.sqrt(6), 9);
    expect(item.speedMps).toBeCloseTo(400 / 150, 9);
  });

  test("settings outside what is possible are refused by name; what is given changes, the rest stays", async () => {
    const put = (body: object) => server.coach.call("PUT /api/groups/:groupId/settings", { ...group(), body });
    expect((await put({ feetShown: "one", thresholds: { painEaseLimit: 2.5 } })).body.item).toMatchObject({
      feetShown: "one",
      distanceUnit: "km",
    });
    expect((await put({ distanceUnit: "mile" })).body.item).toMatchObject({
      feetShown: "one",
      thresholds: { painEaseLimit: 2.5 },
    });
    expect((await put({ thresholds: { painEaseLimit: 99 } })).problem.problems?.[0]?.code).toBe("setting-out-of-range");
    expect((await put({ thresholds: { nonsense: 1 } })).problem.problems?.[0]?.code).toBe("unknown-setting");
    expect((await put({ click: "trumpet" })).problem.code).toBe("unknown-click");
    expect((await put({ unknownField: 1 })).status).toBe(400);
  });

  test("attendance keeps the marks that were not given", async () => {
    const [a, b] = [await server.runner(groupId, "A"), await server.runner(groupId, "B")];
    const params = { groupId, on: "2026-03-12" };
    await server.coach.ok("PUT /api/groups/:groupId/evenings/:on/attendance", {
      params,
      body: { marks: [{ runnerId: a, presence: "present" }] },
    });
    const both = await server.coach.ok("PUT /api/groups/:groupId/evenings/:on/attendance", {
      params,
      body: { marks: [{ runnerId: b, presence: "absent" }] },
    });
    expect(both.item.marks).toHaveLength(2);
    expect(Object.fromEntries(both.item.marks.map((mark) => [mark.runnerId, mark.presence]))).toEqual({
      [a]: "present",
      [b]: "absent",
    });
  });

  test("an assistant enters counts and undoes their own, not the coach's", async () => {
    const { runnerId, ids } = await makeScene(server);
    const assistant = await server.account("assistant");
    const own = (await server.coach.ok("GET /api/runners/:runnerId", { params: { runnerId } })).groupId;
    await server.coach.ok("POST /api/groups/:groupId/members", {
      params: { groupId: own },
      body: { signInName: "assistant", role: "assistant" },
    });
    const stored = await assistant.ok("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: server.id() },
      body: countOf(79),
    });
    const take = (changeId: string) =>
      assistant.call("POST /api/groups/:groupId/changes/:changeId/undo", { params: { groupId: own, changeId } });
    expect((await take(ids.changeId)).status).toBe(403);
    expect((await take(stored.changeId ?? "")).status).toBe(200);
  });

  test("everything about one person can be taken out, and deleting them leaves nothing but that it happened", async () => {
    const scene = await makeScene(server);
    const { runnerId } = scene;
    const zip = await server.coach.call("GET /api/runners/:runnerId/export.zip", { params: { runnerId } });
    const text = zip.raw.toString("latin1");
    for (const name of ["person.json", "counts.csv", "recordings.csv", "README.txt", "before.gpx"])
      expect(text).toContain(name);
    const deleted = await server.coach.ok("DELETE /api/runners/:runnerId", { params: { runnerId } });
    expect(deleted.counts).toMatchObject({
      footCount: 2,
      recording: 1,
      pain: 1,
      formNote: 1,
      videoMeasure: 1,
      runnerLink: 1,
      consent: 1,
    });
    expect((await server.phone(scene.token).call("GET /api/runner/today")).status).toBe(401);
    expect((await server.coach.call("GET /api/runners/:runnerId", { params: { runnerId } })).status).toBe(404);
    const audit = await server.coach.ok("GET /api/audit", { query: {} });
    expect(audit.items[0]).toMatchObject({ what: "runner-deleted", runnerId });
    expect(JSON.stringify(audit)).not.toContain("Odalys");
  });

  test("metrics follow the OpenMetrics text format and count what happened", async () => {
    await server.coach.ok("GET /api/groups", { query: {} });
    const text = (await server.coach.call("GET /api/metrics")).raw.toString("utf8");
    // OpenMetrics 1.0: counters end in _total, the exposition ends in # EOF, histograms have an +Inf bucket equal to count.
    expect(text.endsWith("# EOF\n")).toBe(true);
    expect(text).toContain('spondee_requests_total{method="GET",route="/api/groups",status="200"} 1');
    const infinite = /route="\/api\/groups",le="\+Inf"} (\d+)/.exec(text)?.[1];
    expect(text).toContain(`spondee_request_seconds_count{method="GET",route="/api/groups"} ${infinite}`);
    for (const line of text.split("\n"))
      expect(line).toMatch(/^(# (TYPE|HELP|UNIT) spondee_.*|# EOF|spondee_[a-z_]+(\{.*\})? [\d.e+-]+|)$/);
  });
});
