import { request as httpRequest } from "node:http";
import { connect } from "node:net";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { countOf, gpx, makeScene } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";
import { disposition } from "./app/send-file.ts";
import { safeName } from "./operations/export.ts";
import { allowedHosts, assertBindAllowed } from "./operations/bind-rules.ts";
import { writeCsv } from "./use-cases/roster-csv.ts";

const SCRIPT = '<img src=x onerror="alert(1)"><script>alert(1)</script>';

describe.each(storeVariants)("walls on $name", (variant) => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer(variant, { maxUploadBytes: 300_000 });
  });
  afterEach(() => server.close());

  test("every answer carries the strict policy: nothing inline, nothing from elsewhere, never framed", async () => {
    for (const url of ["/api/health", "/api/openapi.json", "/api/groups", "/nothing", "/../../etc/passwd"]) {
      const response = await server.app.inject({ url, headers: { host: "localhost" } });
      const policy = String(response.headers["content-security-policy"]);
      expect(policy, url).toContain("default-src 'none'");
      expect(policy).not.toMatch(/unsafe|https?:|\*/);
      expect(policy).toContain("frame-ancestors 'none'");
      expect(response.headers).toMatchObject({
        "x-content-type-options": "nosniff",
        "referrer-policy": "no-referrer",
        "cross-origin-resource-policy": "same-origin",
        "cross-origin-opener-policy": "same-origin",
      });
      expect(response.headers["access-control-allow-origin"]).toBeUndefined();
      expect(response.headers["x-powered-by"]).toBeUndefined();
    }
  });

  test("a request under a foreign host name is refused, so that a rebound name reaches nothing", async () => {
    for (const host of ["evil.example", "localhost.evil.example", "127.0.0.2"]) {
      const response = await server.app.inject({ url: "/api/setup", headers: { host } });
      expect(response.statusCode, host).toBe(421);
    }
  });

  test("a page of another site cannot write with the coach's cookie", async () => {
    const groupId = await server.group();
    const cookie = await cookieOf(server);
    const forge = (headers: Record<string, string>) =>
      server.app.inject({
        method: "DELETE",
        url: `/api/groups/${groupId}`,
        headers: { host: "localhost", cookie, ...headers },
      });
    const attempts = [
      {},
      { "x-spondee": "1", origin: "https://evil.example" },
      { "x-spondee": "1", origin: "null" },
      { "x-spondee": "1", "sec-fetch-site": "cross-site" },
      { "x-spondee": "1", "sec-fetch-site": "same-site" },
      { origin: "http://localhost" },
    ];
    for (const headers of attempts) expect((await forge(headers)).statusCode, JSON.stringify(headers)).toBe(403);
    expect((await server.coach.call("GET /api/groups/:groupId", { params: { groupId } })).status).toBe(200);
    expect(
      (await forge({ "x-spondee": "1", origin: "http://localhost", "sec-fetch-site": "same-origin" })).statusCode,
    ).toBe(200);
  });

  test("script in names and notes comes back as the text it is, as JSON and never as a page", async () => {
    const groupId = await server.group();
    const runnerId = await server.runner(groupId, SCRIPT.slice(0, 120));
    const answer = await server.coach.call("GET /api/runners/:runnerId", { params: { runnerId } });
    expect(answer.body.name).toBe(SCRIPT.slice(0, 120));
    expect(answer.headers["content-type"]).toBe("application/json; charset=utf-8");
    const reflected = await server.app.inject({
      url: `/${encodeURIComponent(SCRIPT)}`,
      headers: { host: "localhost" },
    });
    expect(reflected.body).not.toContain("<script");
    const query = await server.coach.call("GET /api/groups/:groupId/roster", {
      params: { groupId },
      query: { search: SCRIPT },
    });
    expect(query.status).toBe(200);
  });

  test("control characters and far too long texts are refused", async () => {
    const groupId = await server.group();
    for (const name of ["a\r\nSet-Cookie: x=1", "a\u0000b", "", "x".repeat(121)]) {
      const params = { groupId, runnerId: server.id() };
      const answer = await server.coach.call("PUT /api/groups/:groupId/runners/:runnerId", { params, body: { name } });
      expect(answer.status, JSON.stringify(name)).toBe(400);
      expect(String(answer.headers["content-type"])).toMatch(/^application\/problem\+json/);
    }
  });

  test("bodies beyond the limits are refused, whole and claimed", async () => {
    const { runnerId } = await makeScene(server);
    const params = { runnerId, recordingId: server.id() };
    const big = Buffer.alloc(400_000, 32);
    const answer = await server.coach.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params,
      query: { fileName: "big.gpx" },
      file: big,
    });
    expect(answer.status).toBe(413);
    const json = await server.app.inject({
      method: "POST",
      url: "/api/session",
      headers: { host: "localhost", "x-spondee": "1", "content-type": "application/json" },
      payload: JSON.stringify({ signInName: "a".repeat(3_000_000), password: "x" }),
    });
    expect(json.statusCode).toBe(413);
    const deep = `${"[".repeat(200_000)}${"]".repeat(200_000)}`;
    const nested = await server.app.inject({
      method: "POST",
      url: "/api/session",
      headers: { host: "localhost", "x-spondee": "1", "content-type": "application/json" },
      payload: deep,
    });
    expect(nested.statusCode).toBeGreaterThanOrEqual(400);
    expect(nested.statusCode).toBeLessThan(500);
    const polluted = await server.app.inject({
      method: "POST",
      url: "/api/session",
      headers: { host: "localhost", "x-spondee": "1", "content-type": "application/json" },
      payload: '{"__proto__":{"owner":true},"signInName":"a","password":"b"}',
    });
    expect(polluted.statusCode).toBe(400);
    const upload = await server.app.inject({
      method: "POST",
      url: "/api/session",
      headers: { host: "localhost", "x-spondee": "1", "content-type": "text/xml" },
      payload: "<a/>",
    });
    expect(upload.statusCode).toBe(415);
  });

  test("ids that are no ids, paths that climb and queries that inject find nothing", async () => {
    const groupId = await server.group();
    await server.runner(groupId, "Ann");
    for (const bad of ["..%2f..%2fetc%2fpasswd", "1%20or%201=1", "'%20or%20''='", "%00", "x".repeat(99)]) {
      const response = await server.app.inject({
        url: `/api/runners/${bad}`,
        headers: { host: "localhost", cookie: await cookieOf(server) },
      });
      expect([400, 404], bad).toContain(response.statusCode);
    }
    for (const search of ["' or 1=1 --", "%", "_", "\\", '"']) {
      const answer = await server.coach.ok("GET /api/groups/:groupId/roster", {
        params: { groupId },
        query: { search },
      });
      expect(answer.items, search).toEqual([]);
    }
    const nul = await server.coach.call("GET /api/groups/:groupId/roster", {
      params: { groupId },
      query: { search: "a\u0000b" },
    });
    expect(nul.status).toBe(400);
    const cursor = await server.coach.call("GET /api/groups/:groupId/roster", {
      params: { groupId },
      query: { after: "'; drop table runner" },
    });
    expect(cursor.status).toBe(200);
  });

  test("a file name from a stranger cannot smuggle a header or a path", async () => {
    const { runnerId, groupId } = await makeScene(server);
    const recordingId = server.id();
    const fileName = '../../evil"\r\nSet-Cookie: a=b/..\\x.gpx';
    const sent = await server.coach.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId },
      query: { fileName },
      file: gpx(3),
    });
    expect(sent.status).toBe(200);
    const got = await server.coach.call("GET /api/runners/:runnerId/recordings/:recordingId/file", {
      params: { runnerId, recordingId },
    });
    expect(got.headers["set-cookie"]).toBeUndefined();
    expect(String(got.headers["content-disposition"])).not.toMatch(/[\r\n]|\.\.\//);
    const zip = await server.coach.call("GET /api/groups/:groupId/export.zip", { params: { groupId } });
    const names = [...zip.raw.toString("latin1").matchAll(/[\w .\-/]*recordings\/[^P]{1,100}?\.gpx/g)].map(
      (match) => match[0],
    );
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) expect(name).not.toMatch(/\.\.|\\|^\//);
  });

  test("a spreadsheet runs nothing that a runner is called", async () => {
    const groupId = await server.group();
    for (const name of ['=HYPERLINK("http://evil")', "+1+1", "-2", "@SUM(A1)", 'Plain, "Quoted" Name'])
      await server.runner(groupId, name);
    const csv = (await server.coach.call("GET /api/groups/:groupId/roster.csv", { params: { groupId } })).raw.toString(
      "utf8",
    );
    for (const line of csv.split("\r\n")) expect(line.replace(/^"/, "")).not.toMatch(/^[=+\-@]/);
    expect(csv).toContain(`"Plain, ""Quoted"" Name"`);
  });

  test("the log holds no name, note, number of a person, token or password", async () => {
    const scene = await makeScene(server);
    await server.coach.call("GET /api/groups/:groupId/roster", {
      params: { groupId: scene.groupId },
      query: { search: "Odalys" },
    });
    await server.nobody.call("POST /api/session", { body: { signInName: "coach", password: "secret guess" } });
    await server.phone(scene.token).call("GET /api/runner/today");
    await server.coach.call("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId: scene.runnerId, countId: server.id() },
      body: countOf(9999),
    });
    const log = server.logLines.join("");
    expect(log).toContain('"route":"/api/runner/today"');
    for (const secret of ["Odalys", scene.token, "secret guess", "long enough password", scene.runnerId, "Fenwick"])
      expect(log, secret).not.toContain(secret);
  });

  test("too many requests from one are refused, others go on", async () => {
    const limited = await startTestServer(variant, { requestsPerMinute: 20 });
    const other = await limited.account("other");
    const seen: number[] = [];
    for (let index = 0; index < 30; index += 1) seen.push((await other.call("GET /api/groups", { query: {} })).status);
    expect(seen.filter((status) => status === 429).length).toBeGreaterThan(5);
    expect((await limited.coach.call("GET /api/groups", { query: {} })).status).toBe(200);
    await limited.close();
  });
});

test("a sender that dawdles is cut off and holds nobody else up", async () => {
  const [variant] = storeVariants;
  if (variant === undefined) throw new Error("no database to test on");
  const server = await startTestServer(variant);
  // The limit that is set, without waiting for it: 15 s for the headers of a request.
  expect(server.app.server.headersTimeout).toBe(15_000);
  expect(server.app.server.requestTimeout).toBe(600_000);
  await server.app.listen({ host: "127.0.0.1", port: 0 });
  const address = server.app.server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  const slow = Array.from({ length: 50 }, () => {
    const socket = connect(port, "127.0.0.1");
    socket.on("error", () => undefined);
    socket.write("GET /api/health HTTP/1.1\r\nHost: localhost\r\nX-A: ");
    return socket;
  });
  const status = await new Promise<number | undefined>((resolve, reject) => {
    httpRequest({ port, host: "127.0.0.1", path: "/api/health", headers: { host: "localhost" } }, (response) => {
      response.resume();
      resolve(response.statusCode);
    })
      .on("error", reject)
      .end();
  });
  expect(status).toBe(200);
  for (const socket of slow) socket.destroy();
  await server.close();
});

test("binding wider than this machine needs HTTPS or a declared proxy", () => {
  const bind =
    (host: string, more: object = {}) =>
    () =>
      assertBindAllowed({ host, ownHttps: false, ...more });
  expect(bind("127.0.0.1")).not.toThrow();
  expect(bind("0.0.0.0")).toThrow("without HTTPS");
  expect(bind("192.168.1.20", { publicOrigin: "http://coach.example" })).toThrow("without HTTPS");
  expect(bind("0.0.0.0", { publicOrigin: "https://coach.example" })).not.toThrow();
  expect(bind("0.0.0.0", { ownHttps: true })).not.toThrow();
  expect(bind("127.0.0.1", { publicOrigin: "https://a/b" })).toThrow("--public-origin");
  expect(allowedHosts({ host: "127.0.0.1", ownHttps: false }, ["desk"])).toEqual(["localhost", "127.0.0.1", "[::1]"]);
  expect(allowedHosts({ host: "0.0.0.0", ownHttps: true }, ["Desk"])).toContain("desk");
});

test("file names: quoted for the header, one path part for the archive", () => {
  expect(disposition('a"b\r\nc.gpx', false)).toBe("attachment; filename=\"a_b__c.gpx\"; filename*=UTF-8''a_b__c.gpx");
  expect(disposition("Übung.wav", true)).toBe("inline; filename=\"_bung.wav\"; filename*=UTF-8''%C3%9Cbung.wav");
  for (const name of ["../../x", "..", "", "a/b\\c", "CON\u0000", "\ud800"]) {
    const safe = safeName(name);
    expect(safe, name).not.toMatch(/[/\\\p{Cc}]/u);
    expect(safe).not.toBe("");
    expect(safe).not.toMatch(/^\.|\.\./);
  }
  expect(writeCsv(["a"], [["=1"], ["\t=1"], [-1], ["x"]])).toBe("a\r\n'=1\r\n'\t=1\r\n-1\r\nx\r\n");
});

async function cookieOf(server: TestServer): Promise<string> {
  const answer = await server.nobody.call("POST /api/session", {
    body: { signInName: "coach", password: "long enough password" },
  });
  return String(answer.headers["set-cookie"]).split(";")[0] ?? "";
}
