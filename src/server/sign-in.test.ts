import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer, type TestServer } from "../../tests/test-server.ts";
import { makeSetupCode, makeSignInCode } from "./sign-in/one-time-codes.ts";
import { waitAfterMs } from "./sign-in/guess-brake.ts";
import { checkPassword, hashPassword } from "./sign-in/passwords.ts";

const NAME = "coach";
const PASSWORD = "long enough password";

describe.each(storeVariants)("signing in on $name", (variant) => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer(variant);
  });
  afterEach(() => server.close());
  const signIn = (password: string, signInName = NAME) =>
    server.nobody.call("POST /api/session", { body: { signInName, password } });

  test("the cookie is HttpOnly and SameSite=Strict, and its secret is stored as a hash only", async () => {
    const answer = await signIn(PASSWORD);
    const cookie = String(answer.headers["set-cookie"]);
    expect(cookie).toMatch(/^spondee=[\w-]{43}; .*HttpOnly.*SameSite=Strict/);
    const secret = /spondee=([\w-]+)/.exec(cookie)?.[1] ?? "";
    const rows = await server.deps.store.db.selectFrom("signInSession").selectAll().execute();
    expect(JSON.stringify(rows)).not.toContain(secret);
    expect(JSON.stringify(await server.deps.store.db.selectFrom("account").selectAll().execute())).not.toContain(
      PASSWORD,
    );
  });

  test("a wrong password and an unknown name look the same", async () => {
    const wrong = await signIn("not the password");
    const unknown = await signIn("not the password", "nobody-here");
    expect([wrong.status, unknown.status]).toEqual([401, 401]);
    expect(wrong.problem.detail).toBe(unknown.problem.detail);
  });

  test("guessing is slowed down, for the right password too, and ends with time", async () => {
    for (let index = 0; index < 9; index += 1) await signIn("wrong");
    const held = await signIn(PASSWORD);
    expect(held.status).toBe(429);
    expect(held.problem.code).toBe("wait");
    server.clock.set("2026-03-05T19:00:00Z");
    expect((await signIn(PASSWORD)).status).toBe(200);
  });

  test("signing out ends this session, signing out everywhere all of them", async () => {
    const second = await server.account("second");
    await second.ok("DELETE /api/session");
    expect((await second.call("GET /api/groups")).status).toBe(401);
    await server.coach.ok("DELETE /api/sessions");
    expect((await server.coach.call("GET /api/groups")).status).toBe(401);
    expect((await server.coach.ok("GET /api/session")).account).toBeNull();
  });

  test("a session ends after 30 days without use", async () => {
    server.clock.set("2026-03-20T18:00:00Z");
    expect((await server.coach.call("GET /api/groups")).status).toBe(200);
    server.clock.set("2026-04-18T18:00:00Z");
    expect((await server.coach.call("GET /api/groups"), { status: 200 }).status).toBe(200);
    server.clock.set("2026-05-19T18:00:00Z");
    expect((await server.coach.call("GET /api/groups")).status).toBe(401);
  });

  test("the first set-up works once and only with its code", async () => {
    expect(await makeSetupCode(server.deps)).toBeNull();
    const again = await server.nobody.call("POST /api/setup", {
      body: { code: "guess-guess", signInName: "mallory", displayName: "M", password: PASSWORD },
    });
    expect(again.status).toBe(409);
    expect(await server.nobody.ok("GET /api/setup")).toEqual({ needsSetup: false, demo: false });
  });

  test("a printed code signs in once, and not after its time", async () => {
    const code = (await makeSignInCode(server.deps)) ?? "";
    const use = () => server.nobody.call("POST /api/session/code", { body: { code } });
    expect((await use()).body.account?.signInName).toBe(NAME);
    expect((await use()).status).toBe(401);
    const late = (await makeSignInCode(server.deps)) ?? "";
    server.clock.set("2026-03-06T07:00:00Z");
    expect((await server.nobody.call("POST /api/session/code", { body: { code: late } })).status).toBe(401);
  });

  test("a new password ends the other sessions and needs the old one", async () => {
    const other = await server.account("second");
    const wrong = await other.call("PUT /api/account/password", {
      body: { currentPassword: "no", newPassword: "0123456789" },
    });
    expect(wrong.status).toBe(401);
    const right = await other.call("PUT /api/account/password", {
      body: { currentPassword: "password of second", newPassword: "a new password" },
    });
    expect(right.status).toBe(200);
    expect((await other.call("GET /api/groups")).status, "the old cookie").toBe(401);
    expect((await signIn("a new password", "second")).status).toBe(200);
  });

  test("a disabled account is out at once; the last owner and the last coach stay", async () => {
    const other = await server.account("second");
    const params = { accountId: other.accountId };
    await server.coach.ok("PUT /api/accounts/:accountId", {
      params,
      body: { signInName: "second", displayName: "S", disabled: true },
    });
    expect((await other.call("GET /api/groups")).status).toBe(401);
    const own = { accountId: server.coach.accountId };
    const last = await server.coach.call("PUT /api/accounts/:accountId", {
      params: own,
      body: { signInName: NAME, displayName: "C", owner: false },
    });
    expect(last.problem.code).toBe("last-owner");
    const groupId = await server.group();
    const leave = await server.coach.call("DELETE /api/groups/:groupId/members/:accountId", {
      params: { groupId, ...own },
    });
    expect(leave.problem.code).toBe("last-coach");
  });
});

test("closed form: waits double from one second after five wrong guesses, to a quarter of an hour", () => {
  const waits = Array.from({ length: 20 }, (_, tries) => waitAfterMs(tries + 1));
  expect(waits.slice(0, 8)).toEqual([0, 0, 0, 0, 1000, 2000, 4000, 8000]);
  expect(waits.at(-1)).toBe(900_000);
});

test("published: scrypt gives the key of RFC 7914 section 12 for password, NaCl, N = 1024, r = 8, p = 16", async () => {
  const salt = "NaCl".padEnd(16, "\0");
  const made = await hashPassword("password", Buffer.from(salt), { n: 1024, r: 8, p: 16 });
  expect(await checkPassword("password", made)).toBe(true);
  expect(await checkPassword("Password", made)).toBe(false);
  // The vector's own salt has four bytes, which hashPassword does not take: checked through the stored form.
  const vector = Buffer.from("fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162", "hex");
  const stored = `scrypt$1024$8$16$${Buffer.from("NaCl").toString("base64url")}$${vector.toString("base64url")}`;
  expect(await checkPassword("password", stored)).toBe(true);
});
