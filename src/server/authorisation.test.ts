// Who may call what: written down here by hand, route by route, and held against the server.
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Access, RouteKey } from "../api/index.ts";
import { matrix } from "../../tests/authorisation-matrix.ts";
import { countOf, gpx, makeScene, type Scene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { allRoutes, type Answer, type Person, startTestServer, type TestServer } from "../../tests/test-server.ts";

type Caller = "nobody" | "link" | "otherLink" | "revokedLink" | "assistant" | "otherCoach" | "coach" | "owner";
type Verdict = "in" | 401 | 403 | 404;
const people: Readonly<Record<Access, Readonly<Record<Caller, Verdict>>>> = {
  public: {
    nobody: "in",
    link: "in",
    otherLink: "in",
    revokedLink: "in",
    assistant: "in",
    otherCoach: "in",
    coach: "in",
    owner: "in",
  },
  "signed-in": {
    nobody: 401,
    link: 401,
    otherLink: 401,
    revokedLink: 401,
    assistant: "in",
    otherCoach: "in",
    coach: "in",
    owner: "in",
  },
  member: {
    nobody: 401,
    link: 401,
    otherLink: 401,
    revokedLink: 401,
    assistant: "in",
    otherCoach: 404,
    coach: "in",
    owner: 404,
  },
  coach: {
    nobody: 401,
    link: 401,
    otherLink: 401,
    revokedLink: 401,
    assistant: 403,
    otherCoach: 404,
    coach: "in",
    owner: 404,
  },
  owner: {
    nobody: 401,
    link: 401,
    otherLink: 401,
    revokedLink: 401,
    assistant: 403,
    otherCoach: 403,
    coach: 403,
    owner: "in",
  },
  runner: {
    nobody: 401,
    link: "in",
    otherLink: "in",
    revokedLink: 401,
    assistant: 401,
    otherCoach: 401,
    coach: 401,
    owner: 401,
  },
};

/** Routes at which someone who may come in is still told no by what they sent: wrong code, wrong password. */
const ANSWERS_401_INSIDE = new Set([
  "POST /api/setup",
  "POST /api/session",
  "POST /api/session/code",
  "PUT /api/account/password",
]);
/** These end sessions or links, or take the scene away: for those who may, they are tried in other tests. */
const ENDS_THINGS = new Set([
  "DELETE /api/session",
  "DELETE /api/sessions",
  "POST /api/demo",
  "DELETE /api/groups/:groupId",
  "DELETE /api/runners/:runnerId",
  "DELETE /api/runner/me",
]);

describe.each(storeVariants)("authorisation on $name", (variant) => {
  let server: TestServer;
  let scene: Scene;
  let other: Scene;
  let callers: Readonly<Record<Caller, Person>>;

  beforeAll(async () => {
    server = await startTestServer(variant);
    const coach = await server.account("coach-two");
    scene = await makeScene(server, coach);
    const otherCoach = await server.account("other-coach");
    other = await makeScene(server, otherCoach);
    const assistant = await server.account("assistant");
    await coach.ok("POST /api/groups/:groupId/members", {
      params: { groupId: scene.groupId },
      body: { signInName: "assistant", role: "assistant" },
    });
    const revokedId = server.id();
    const params = { runnerId: scene.runnerId, linkId: revokedId };
    const revoked = await coach.ok("PUT /api/runners/:runnerId/links/:linkId", { params, body: {} });
    await coach.ok("DELETE /api/runners/:runnerId/links/:linkId", { params });
    callers = {
      nobody: server.nobody,
      link: server.phone(scene.token),
      otherLink: server.phone(other.token),
      revokedLink: server.phone(revoked.token),
      assistant,
      otherCoach,
      coach,
      owner: server.coach,
    };
  }, 60_000);
  afterAll(() => server.close());

  test("the matrix holds every route of the OpenAPI description, once", async () => {
    const entered = Object.values(matrix).flat();
    expect(new Set(entered).size).toBe(entered.length);
    expect([...entered].sort()).toEqual([...allRoutes].sort());
    const response = await server.app.inject({ url: "/api/openapi.json", headers: { host: "localhost" } });
    const { paths } = response.json<{ paths: Record<string, Record<string, { "x-access": Access }>> }>();
    for (const [access, routes] of Object.entries(matrix))
      for (const route of routes) {
        const [method, path] = route.split(" ") as [string, string];
        const operation = paths[path.replaceAll(/:([a-zA-Z]+)/g, "{$1}")]?.[method.toLowerCase()];
        expect(operation?.["x-access"], route).toBe(access);
      }
  });

  const cases = Object.entries(matrix).flatMap(([access, routes]) =>
    (Object.keys(people.public) as Caller[]).map((caller) => ({ access: access as Access, caller, routes })),
  );
  test.each(cases)("$access routes for $caller", async ({ access, caller, routes }) => {
    const expected = people[access][caller];
    for (const route of routes) {
      if (expected === "in" && ENDS_THINGS.has(route)) continue;
      const before = expected === "in" ? null : await fingerprint(server);
      const answer = await knock(callers[caller], route as RouteKey);
      expect(verdict(answer, route), `${route} as ${caller}: ${answer.raw.toString("utf8").slice(0, 200)}`).toBe(
        expected,
      );
      // Told no means nothing happened.
      if (before !== null) expect(await fingerprint(server), route).toBe(before);
    }
  });

  test("another runner's link reaches nothing of this runner, by any id", async () => {
    const stranger = callers.otherLink;
    const recordingId = scene.ids.recordingId;
    expect(
      (await stranger.call("DELETE /api/runner/recordings/:recordingId", { params: { recordingId } })).status,
    ).toBe(404);
    const taken = await stranger.call("PUT /api/runner/counts/:countId", {
      params: { countId: scene.ids.countId },
      body: countOf(70),
    });
    expect(taken.status).toBe(409);
    const over = await stranger.call("PUT /api/runner/pain/:entryId", {
      params: { entryId: scene.ids.painId },
      body: { score: 9, at: "2026-03-05T19:00:00Z" },
    });
    expect(over.status).toBe(409);
    const sent = await stranger.call("PUT /api/runner/recordings/:recordingId", {
      params: { recordingId },
      query: { fileName: "x.gpx" },
      file: gpx(40),
    });
    expect(sent.status).toBe(409);
    const mine = await callers.coach.ok("GET /api/runners/:runnerId/pain", {
      params: { runnerId: scene.runnerId },
      query: {},
    });
    expect(mine.items.map((item) => item.score)).not.toContain(9);
  });

  test("a coach cannot reach into another group through a path that mixes ids", async () => {
    const { coach } = callers;
    const mixed = { groupId: scene.groupId, runnerId: other.runnerId };
    expect(
      (await coach.call("PUT /api/groups/:groupId/runners/:runnerId", { params: mixed, body: { name: "Stolen" } }))
        .status,
    ).toBe(409);
    const theirs = { runnerId: scene.runnerId, countId: other.ids.countId };
    expect((await coach.call("DELETE /api/runners/:runnerId/counts/:countId", { params: theirs })).status).toBe(409);
    expect(
      (await coach.call("PUT /api/runners/:runnerId/counts/:countId", { params: theirs, body: countOf(70) })).status,
    ).toBe(409);
    const file = { runnerId: scene.runnerId, recordingId: other.ids.recordingId };
    expect((await coach.call("GET /api/runners/:runnerId/recordings/:recordingId/file", { params: file })).status).toBe(
      404,
    );
    expect((await coach.call("DELETE /api/runners/:runnerId/recordings/:recordingId", { params: file })).status).toBe(
      404,
    );
    const change = { groupId: scene.groupId, changeId: other.ids.changeId };
    expect((await coach.call("POST /api/groups/:groupId/changes/:changeId/undo", { params: change })).status).toBe(404);
    const counts = [{ id: server.id(), runnerId: other.runnerId, count: countOf(80) }];
    const batch = await coach.ok("PUT /api/groups/:groupId/counts", {
      params: { groupId: scene.groupId },
      body: { counts },
    });
    expect(batch.outcomes[0]?.outcome).toBe("refused");
    const marks = [{ runnerId: other.runnerId, presence: "present" as const }];
    const evening = { groupId: scene.groupId, on: "2026-03-05" };
    expect(
      (await coach.call("PUT /api/groups/:groupId/evenings/:on/attendance", { params: evening, body: { marks } }))
        .status,
    ).toBe(404);
  });

  test("a link that has run out is as good as none", async () => {
    const params = { runnerId: scene.runnerId, linkId: server.id() };
    const soon = await callers.coach.ok("PUT /api/runners/:runnerId/links/:linkId", {
      params,
      body: { expiresAt: "2026-03-05T18:30:00Z" },
    });
    expect((await server.phone(soon.token).call("GET /api/runner/today")).status).toBe(200);
    server.clock.set("2026-03-05T18:30:01Z");
    expect((await server.phone(soon.token).call("GET /api/runner/today")).status).toBe(401);
  });

  /** A call with the scene's own ids and no body: it passes or fails the door, and does little behind it. */
  function knock(person: Person, route: RouteKey): Promise<Answer> {
    const { groupId, runnerId, ids } = scene;
    const params = {
      groupId,
      runnerId,
      on: "2026-03-05",
      accountId: server.id(),
      countId: ids.countId,
      recordingId: ids.recordingId,
      entryId: ids.painId,
      linkId: ids.linkId,
      templateId: server.id(),
      drillId: server.id(),
      feedId: server.id(),
      mailId: server.id(),
      progressId: server.id(),
      rung: "1",
      token: "x".repeat(43),
      changeId: route.endsWith("/undo") ? server.id() : ids.changeId,
    };
    const isDelete = route.startsWith("DELETE");
    // Nothing of the scene goes away for those who may delete: they ask for something that is not there.
    const gone = {
      ...params,
      countId: server.id(),
      recordingId: server.id(),
      entryId: server.id(),
      linkId: server.id(),
    };
    // A whole evening's sound is not needed to see who may ask for it.
    if (route === "GET /api/groups/:groupId/tracks.zip")
      return person.call(route, { params, query: { on: "2020-01-01" } } as never);
    const beat = /track/.test(route) ? { query: { stepRateSpm: 170, beatSpm: 170, minutes: 0.05, format: "wav" } } : {};
    return person.call(route, { params: isDelete ? gone : params, ...beat } as never);
  }

  function verdict(answer: Answer, route: string): Verdict {
    const { status, problem } = answer;
    if (status === 401 && problem.code === "sign-in-failed" && ANSWERS_401_INSIDE.has(route)) return "in";
    if (status === 403 && problem.code === "not-this-machine") return "in";
    if (status === 401 || status === 403) return status;
    if (status === 404 && problem.detail === "There is no such group or runner.") return 404;
    if (status >= 500) throw new Error(`${route}: ${status}`);
    return "in";
  }
});

/** Every row count: enough to see that nothing was added or taken away. */
async function fingerprint(server: TestServer): Promise<string> {
  const { db } = server.deps.store;
  const counts: number[] = [];
  for (const table of [
    "account",
    "runner",
    "footCount",
    "recording",
    "pain",
    "change",
    "audit",
    "runnerLink",
    "consent",
    "report",
  ] as const)
    counts.push(
      Number(
        (
          await db
            .selectFrom(table)
            .select((build) => build.fn.countAll<number>().as("n"))
            .executeTakeFirstOrThrow()
        ).n,
      ),
    );
  return counts.join(",");
}
