import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { RouteKey } from "../api/index.ts";
import { countOf, gpx, makeScene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { allRoutes, type Person, startTestServer, type TestServer } from "../../tests/test-server.ts";

describe.each(storeVariants)("every route on $name", (variant) => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer(variant);
  });
  afterEach(() => server.close());

  test("answers, and as its schema says, for someone who may call it", async () => {
    const seen = new Set<RouteKey>(["POST /api/setup"]);
    const track =
      (person: Person): Person["ok"] =>
      (route, ...input) => {
        seen.add(route);
        return person.ok(route, ...input);
      };
    const scene = await makeScene(server);
    const { groupId, runnerId, ids } = scene;
    const coach = track(server.coach);
    const phone = track(server.phone(scene.token));
    const group = { params: { groupId } };
    const runner = { params: { runnerId } };
    const at = "2026-03-05T19:00:00Z";
    const entry = (entryId: string) => ({ params: { runnerId, entryId } });

    await coach("GET /api/setup");
    await coach("GET /api/session");
    const assistant = await server.account("assistant");
    await track(server.nobody)("POST /api/session", {
      body: { signInName: "assistant", password: "password of assistant" },
    });
    await coach("GET /api/accounts");
    await coach("PUT /api/accounts/:accountId", {
      params: { accountId: server.id() },
      body: { signInName: "third", displayName: "Third" },
    });
    await coach("POST /api/groups/:groupId/members", {
      ...group,
      body: { signInName: "assistant", role: "assistant" },
    });
    await coach("GET /api/groups/:groupId/members", group);
    const member = { params: { groupId, accountId: assistant.accountId } };
    await coach("PUT /api/groups/:groupId/members/:accountId", { ...member, body: { role: "coach" } });
    await coach("DELETE /api/groups/:groupId/members/:accountId", member);

    await coach("GET /api/groups", { query: {} });
    await coach("GET /api/groups/:groupId", group);
    await coach("PUT /api/groups/:groupId", {
      ...group,
      body: { name: "Renamed", startsOn: "2026-03-05", weeks: 8, eveningWeekday: 4, timeZone: "UTC" },
    });
    await coach("GET /api/groups/:groupId/roster", { ...group, query: {} });
    await coach("POST /api/groups/:groupId/roster/preview", {
      ...group,
      body: { csv: "name,height (cm)\nYara Finch,171\n" },
    });
    await coach("POST /api/groups/:groupId/roster", {
      ...group,
      body: { runners: [{ id: server.id(), runner: { name: "Yara Finch" } }] },
    });
    await coach("GET /api/groups/:groupId/settings", group);
    await coach("PUT /api/groups/:groupId/settings", { ...group, body: { feetShown: "one" } });
    const evening = { params: { groupId, on: "2026-03-05" } };
    await coach("PUT /api/groups/:groupId/evenings/:on/attendance", {
      ...evening,
      body: { marks: [{ runnerId, presence: "present" }] },
    });
    await coach("GET /api/groups/:groupId/evenings/:on/attendance", evening);
    await coach("GET /api/groups/:groupId/changes", { ...group, query: {} });
    await coach("GET /api/groups/:groupId/changes/:changeId", { params: { groupId, changeId: ids.changeId } });
    await coach("GET /api/groups/:groupId/results", group);
    await coach("PUT /api/groups/:groupId/counts", {
      ...group,
      body: { counts: [{ id: server.id(), runnerId, count: countOf(80) }] },
    });
    await coach("POST /api/groups/:groupId/proposals", { ...group, body: { runnerIds: [runnerId] } });

    await coach("GET /api/runners/:runnerId", runner);
    await coach("PUT /api/groups/:groupId/runners/:runnerId", {
      params: { groupId, runnerId },
      body: { name: "Odalys Brandt", heightM: 1.7 },
    });
    await coach("GET /api/runners/:runnerId/counts", { ...runner, query: {} });
    await coach("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: ids.countId },
      body: countOf(80),
    });
    await coach("GET /api/runners/:runnerId/baseline", runner);
    await coach("GET /api/runners/:runnerId/proposal", runner);
    await coach("PUT /api/runners/:runnerId/proposal", { ...runner, body: {} });
    await coach("GET /api/protocols");
    await coach("POST /api/runners/:runnerId/plan", { ...runner, body: { sessionsPerWeek: 2 } });
    await coach("GET /api/runners/:runnerId/plan", runner);
    await coach("GET /api/runners/:runnerId/links", runner);
    await coach("PUT /api/runners/:runnerId/links/:linkId", { params: { runnerId, linkId: server.id() }, body: {} });
    await coach("GET /api/runners/:runnerId/pain", { ...runner, query: {} });
    await coach("PUT /api/runners/:runnerId/pain/:entryId", { ...entry(ids.painId), body: { score: 1, at } });
    await coach("GET /api/runners/:runnerId/form-notes", { ...runner, query: {} });
    await coach("PUT /api/runners/:runnerId/form-notes/:entryId", {
      ...entry(ids.formId),
      body: { at, when: "early", signs: [] },
    });
    await coach("GET /api/runners/:runnerId/video-measures", { ...runner, query: {} });
    await coach("PUT /api/runners/:runnerId/video-measures/:entryId", {
      ...entry(ids.videoId),
      body: { at, phase: "before", frameRateHz: 240, contactFrames: [], toeOffFrames: [] },
    });

    const recording = { params: { runnerId, recordingId: ids.recordingId } };
    await coach("GET /api/runners/:runnerId/recordings", { ...runner, query: {} });
    await coach("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId: server.id() },
      query: { fileName: "during.gpx", phase: "during" },
      file: gpx(6),
    });
    const detail = await coach("GET /api/runners/:runnerId/recordings/:recordingId", {
      ...recording,
      query: { maxPoints: 100 },
    });
    expect(detail.trace.timeS.length).toBeLessThanOrEqual(100);
    await coach("PATCH /api/runners/:runnerId/recordings/:recordingId", {
      ...recording,
      body: { phase: "before", surface: "outdoor", excluded: false },
    });
    await coach("GET /api/runners/:runnerId/comparison", { ...runner, query: {} });
    await coach("GET /api/runners/:runnerId/runs", runner);
    const week = await coach("GET /api/groups/:groupId/week", { ...group, query: {} });
    await coach("PUT /api/groups/:groupId/week/decisions", {
      ...group,
      body: { weekStartsOn: week.weekStartsOn, decisions: [{ id: server.id(), runnerId, decision: "stay" }] },
    });
    await coach("GET /api/groups/:groupId/lanes", { ...group, query: {} });
    await coach("GET /api/groups/:groupId/lanes", { ...group, query: { speedBandMps: 0.3 } });
    const template = { params: { groupId, templateId: server.id() } };
    await coach("PUT /api/groups/:groupId/templates/:templateId", {
      ...template,
      body: { title: "Only the beat", steps: [{ step: "main" }] },
    });
    const drill = { params: { groupId, drillId: server.id() } };
    await coach("PUT /api/groups/:groupId/drills/:drillId", {
      ...drill,
      body: { name: "Tall", howTo: "Stand.", minutes: 1, whatToFeel: "Tall.", cautions: ["Stop."], standing: true },
    });
    await coach("GET /api/groups/:groupId/practice", group);
    await coach("DELETE /api/groups/:groupId/templates/:templateId", template);
    await coach("DELETE /api/groups/:groupId/drills/:drillId", drill);
    await coach("PUT /api/runners/:runnerId/plan/calendar", { ...runner, body: { sessionsPerWeek: 3 } });
    await coach("PUT /api/groups/:groupId/plans/calendar", group);
    const laid = await coach("GET /api/runners/:runnerId/plan", runner);
    if (laid.kind !== "plan") throw new Error("no plan");
    await coach("PUT /api/runners/:runnerId/plan/sessions/:on", {
      params: { runnerId, on: laid.sessions.at(-1)?.on ?? "" },
      body: { mainMinutes: 12 },
    });
    await coach("PUT /api/runners/:runnerId/plan/rungs/:rung", {
      params: { runnerId, rung: String(laid.rungsSpm.length - 1) },
      body: { stepRateSpm: (laid.rungsSpm.at(-1) ?? 0) - 0.5 },
    });
    await coach("GET /api/speech");
    await coach("GET /api/groups/:groupId/sheet", { ...group, query: {} });
    await coach("GET /api/groups/:groupId/messages", { ...group, query: {} });
    const progress = { params: { groupId, progressId: server.id() } };
    await coach("GET /api/groups/:groupId/tracks-progress/:progressId", progress);
    const feed = { params: { groupId, feedId: server.id() } };
    const { address } = await coach("PUT /api/groups/:groupId/feeds/:feedId", { ...feed, body: {} });
    await coach("GET /api/groups/:groupId/feeds", group);
    await coach("GET /api/mail/server");
    await coach("PUT /api/mail/server", {
      body: { host: "127.0.0.1", port: 1, encryption: "none", from: "coach@example.org" },
    });
    await coach("PUT /api/groups/:groupId/addresses", {
      ...group,
      body: { addresses: [{ runnerId, address: "runner@example.org" }] },
    });
    await coach("GET /api/groups/:groupId/addresses", group);
    const draft = { runnerId, subject: "Thursday", text: "Easy." };
    const { items } = await coach("POST /api/groups/:groupId/mail/preview", { ...group, body: { drafts: [draft] } });
    const { queued } = await coach("POST /api/groups/:groupId/mail", {
      ...group,
      body: { weekOn: "2026-03-05", messages: [{ ...draft, digest: items[0]?.digest ?? "" }] },
    });
    await coach("GET /api/groups/:groupId/mail", group);
    await server.deps.store.db
      .updateTable("mailItem")
      .set({ status: "failed", stateJson: JSON.stringify({ status: "failed", at, reason: "refused" }) })
      .execute();
    await coach("POST /api/groups/:groupId/mail/:mailId/again", { params: { groupId, mailId: queued[0] ?? "" } });
    await coach("DELETE /api/mail/server");
    await coach("GET /api/runners/:runnerId/beat-events", { ...runner, query: {} });

    const files: Record<string, string> = {};
    const file = async (person: Person, route: RouteKey, input: object): Promise<void> => {
      const answer = await person.call(route, input as never);
      expect(answer.status, `${route} ${answer.raw.toString("utf8").slice(0, 300)}`).toBe(200);
      seen.add(route);
      files[route] = `${String(answer.headers["content-type"])} ${answer.raw.subarray(0, 4).toString("latin1")}`;
    };
    const short = { minutes: 0.05, stepRateSpm: 170 };
    await file(server.coach, "GET /api/groups/:groupId/roster.csv", group);
    await file(server.coach, "GET /api/groups/:groupId/results.csv", group);
    await file(server.coach, "GET /api/runners/:runnerId/plan.ics", runner);
    await file(server.coach, "GET /api/runners/:runnerId/export.zip", runner);
    await file(server.coach, "GET /api/groups/:groupId/export.zip", group);
    await file(server.coach, "GET /api/runners/:runnerId/recordings/:recordingId/file", recording);
    await file(server.coach, "GET /api/groups/:groupId/lanes/track", {
      ...group,
      query: { beatSpm: 170, minutes: 0.05, format: "wav" },
    });
    await file(server.coach, "GET /api/groups/:groupId/lanes/tracks.zip", {
      ...group,
      query: { minutes: 0.05, format: "wav" },
    });
    await file(server.coach, "GET /api/groups/:groupId/plans.ics", group);
    await file(server.nobody, "GET /api/calendar/:token", { params: { token: address.split("/").at(-1) } });
    await coach("DELETE /api/groups/:groupId/feeds/:feedId", feed);
    await file(server.coach, "GET /api/groups/:groupId/tracks.zip", {
      ...group,
      query: { on: laid.sessions[0]?.on, format: "ogg", sampleRateHz: 8000 },
    });
    await file(server.coach, "GET /api/runners/:runnerId/track", { ...runner, query: { ...short, format: "flac" } });
    await file(server.phone(scene.token), "GET /api/runner/track", { query: { ...short, format: "ogg" } });
    await file(server.phone(scene.token), "GET /api/runner/export.zip", {});
    await file(server.coach, "GET /api/metrics", {});
    expect(files).toMatchObject({
      "GET /api/runners/:runnerId/export.zip": "application/zip PK\u0003\u0004",
      "GET /api/runners/:runnerId/track": "audio/flac fLaC",
      "GET /api/runner/track": "audio/ogg OggS",
      "GET /api/groups/:groupId/lanes/track": "audio/wav RIFF",
      "GET /api/runners/:runnerId/plan.ics": "text/calendar; charset=utf-8 BEGI",
    });

    await phone("GET /api/runner/today");
    await phone("PUT /api/runner/consent", { body: { given: true, textVersion: "1", at } });
    await phone("GET /api/runner/beat-events", { query: {} });
    await phone("PUT /api/runner/counts/:countId", { params: { countId: server.id() }, body: countOf(80) });
    const own = server.id();
    await phone("PUT /api/runner/recordings/:recordingId", {
      params: { recordingId: own },
      query: { fileName: "mine.gpx" },
      file: gpx(9),
    });
    const inParts = gpx(21);
    const partly = server.id();
    await phone("PUT /api/runner/recordings/:recordingId/parts/:startByte", {
      params: { recordingId: partly, startByte: 0 },
      file: inParts,
    });
    await phone("GET /api/runner/recordings/:recordingId/parts", { params: { recordingId: partly } });
    await phone("POST /api/runner/recordings/:recordingId/join", {
      params: { recordingId: partly },
      query: { fileName: "parts.gpx" },
    });
    await phone("PUT /api/runner/reports/:entryId", {
      params: { entryId: server.id() },
      body: { at, effortRating: 4 },
    });
    await phone("PUT /api/runner/pain/:entryId", { params: { entryId: server.id() }, body: { score: 0, at } });
    await phone("GET /api/runner/sent");
    await coach("GET /api/runners/:runnerId/reports", { ...runner, query: {} });
    await phone("DELETE /api/runner/recordings/:recordingId", { params: { recordingId: own } });

    await coach("GET /api/health");
    await coach("GET /api/ready");
    await coach("GET /api/audit", { query: {} });
    await coach("GET /api/backups");
    await coach("POST /api/backups");

    const { changeId } = await coach("DELETE /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId: ids.countId },
    });
    await coach("POST /api/groups/:groupId/changes/:changeId/undo", { params: { groupId, changeId: changeId ?? "" } });
    await coach("DELETE /api/runners/:runnerId/pain/:entryId", entry(ids.painId));
    await coach("DELETE /api/runners/:runnerId/form-notes/:entryId", entry(ids.formId));
    await coach("DELETE /api/runners/:runnerId/video-measures/:entryId", entry(ids.videoId));
    await coach("DELETE /api/runners/:runnerId/recordings/:recordingId", recording);
    await phone("DELETE /api/runner/me");
    const second = await makeScene(server);
    await coach("DELETE /api/runners/:runnerId/links/:linkId", {
      params: { runnerId: second.runnerId, linkId: second.ids.linkId },
    });
    await coach("DELETE /api/runners/:runnerId", { params: { runnerId: second.runnerId } });
    await coach("DELETE /api/groups/:groupId", group);
    await coach("PUT /api/account/password", {
      body: { currentPassword: "long enough password", newPassword: "another long password" },
    });

    // Tested by themselves, because they sign out or take long: see sign-in.test.ts and demo/seed-demo.test.ts.
    const elsewhere = [
      "DELETE /api/session",
      "DELETE /api/sessions",
      "POST /api/session/code",
      "POST /api/demo",
      "DELETE /api/demo",
    ];
    expect(allRoutes.filter((route) => !seen.has(route) && !elsewhere.includes(route))).toEqual([]);
  });

  test("is in the OpenAPI description with a summary, and nothing else is", async () => {
    const response = await server.app.inject({ url: "/api/openapi.json", headers: { host: "localhost" } });
    const document = response.json<{ openapi: string; paths: Record<string, Record<string, { summary?: string }>> }>();
    expect(document.openapi).toBe("3.1.0");
    const described = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => {
        expect(operation.summary, path).toBeTruthy();
        return `${method.toUpperCase()} ${path.replaceAll(/\{([^}]+)\}/g, ":$1")}`;
      }),
    );
    expect(described.sort()).toEqual([...allRoutes].sort());
  });
});
