import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { backupFolder, checkIntegrity, restoreFolder, startServer } from "./index.ts";

describe("starting and stopping", () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "spondee-start-"));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  const start = (more: object = {}) => startServer({ dataDir: join(folder, "data"), port: 0, ...more });
  const post = (address: string, path: string, body: object) =>
    fetch(`${address}${path}`, {
      method: "POST",
      headers: { "content-type": "application/json", "x-spondee": "1" },
      body: JSON.stringify(body),
    });

  test("first start: a set-up address; after it, each start prints a sign-in address that works once", async () => {
    const first = await start();
    expect(first.signInAddress).toBeNull();
    expect(first.setupAddress).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#setup=[\w-]{43}$/);
    const setUp = await post(first.address, "/api/setup", {
      code: first.setupCode,
      signInName: "coach",
      displayName: "C",
      password: "long enough password",
    });
    expect(setUp.status).toBe(200);
    await first.stop();
    await first.stop();
    const second = await start();
    expect(second.setupAddress).toBeNull();
    const code = second.signInAddress?.split("#code=")[1] ?? "";
    expect((await post(second.address, "/api/session/code", { code })).status).toBe(200);
    expect((await post(second.address, "/api/session/code", { code })).status).toBe(401);
    await second.stop();
  });

  test("pages: the desk at /, its screens too, the phone page at /run, and the API never answered by a page", async () => {
    const pagesDir = join(folder, "pages");
    for (const page of ["desk", "pocket"]) {
      mkdirSync(join(pagesDir, page, "assets"), { recursive: true });
      writeFileSync(join(pagesDir, page, "index.html"), `<title>${page}</title>`);
      writeFileSync(join(pagesDir, page, "assets", "a-123.js"), "1");
    }
    const server = await start({ pagesDir });
    const get = async (path: string) => {
      const response = await fetch(`${server.address}${path}`);
      return { status: response.status, text: await response.text(), cache: response.headers.get("cache-control") };
    };
    expect(await get("/")).toMatchObject({ status: 200, text: "<title>desk</title>", cache: "no-cache" });
    expect((await get("/groups/123/week")).text).toBe("<title>desk</title>");
    expect((await get("/run/")).text).toBe("<title>pocket</title>");
    expect((await get("/run")).text).toBe("<title>pocket</title>");
    expect((await get("/run/today")).text).toBe("<title>pocket</title>");
    expect((await get("/assets/a-123.js")).cache).toContain("immutable");
    expect((await get("/assets/none.js")).status).toBe(404);
    expect(JSON.parse((await get("/api/none")).text)).toMatchObject({ status: 404, code: "not-found" });
    for (const path of ["/..%2f..%2fdata/spondee.sqlite", "/%2e%2e/%2e%2e/etc/passwd", "/assets/..%5c..%5cx.txt"])
      expect((await get(path)).text, path).not.toMatch(/SQLite format|root:/);
    await server.stop();
  });

  test("what is wrong at the start is said with its remedy", async () => {
    const taken = createServer();
    const port = await new Promise<number>((resolve) =>
      taken.listen(0, "127.0.0.1", () => {
        const address = taken.address();
        resolve(typeof address === "object" && address !== null ? address.port : 0);
      }),
    );
    await expect(start({ port })).rejects.toThrow(`Port ${port} is taken`);
    taken.close();
    writeFileSync(join(folder, "file"), "");
    await expect(startServer({ dataDir: join(folder, "file", "x"), port: 0 })).rejects.toThrow("cannot be written");
    await expect(start({ host: "0.0.0.0" })).rejects.toThrow("without HTTPS");
    await expect(start({ databaseUrl: "postgres://spondee@127.0.0.1:9/none" })).rejects.toThrow("SPONDEE_DATABASE_URL");
    mkdirSync(join(folder, "bad"));
    writeFileSync(
      join(folder, "bad", "spondee.sqlite"),
      "this is no database, whatever its name says, and long enough to be looked at",
    );
    await expect(startServer({ dataDir: join(folder, "bad"), port: 0 })).rejects.toThrow("damaged");
  });

  test("what was still arriving when a process died is gone at the next start", async () => {
    mkdirSync(join(folder, "data", "uploads"), { recursive: true });
    writeFileSync(join(folder, "data", "uploads", "half.part"), "x");
    const server = await start();
    expect(existsSync(join(folder, "data", "uploads", "half.part"))).toBe(false);
    await server.stop();
  });

  test("backup while running, check, restore: the folder comes back as it was", async () => {
    const data = join(folder, "data");
    const server = await start();
    await post(server.address, "/api/setup", {
      code: server.setupCode,
      signInName: "coach",
      displayName: "C",
      password: "long enough password",
    });
    const file = join(folder, "kept.sqlite");
    const made = await backupFolder(data, file);
    expect(made.byteCount).toBeGreaterThan(4096);
    await expect(backupFolder(data, file)).rejects.toThrow("exists already");
    expect(() => restoreFolder(file, data, { replace: true, now: new Date(0) })).toThrow("Stop the server");
    await server.stop();
    expect(await checkIntegrity(data)).toEqual([]);
    rmSync(join(data, "spondee.sqlite"));
    restoreFolder(file, data, { replace: false, now: new Date(0) });
    const again = await start();
    expect(again.signInAddress, "the account is back").not.toBeNull();
    await again.stop();
    expect(readdirSync(data)).toContain("spondee.sqlite");
  });
});
