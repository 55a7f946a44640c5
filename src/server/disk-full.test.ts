// A full disk: every answer says so in words, nothing that was said yes to is lost, and with room again all goes on.
import { spawnSync } from "node:child_process";
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { countOf, gpx } from "../../tests/scene.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { startTestServer } from "../../tests/test-server.ts";
import { integrityFaults } from "../store/index.ts";
import { checkIntegrity, startServer } from "./index.ts";

const sqliteOnly = storeVariants.filter((variant) => variant.name === "sqlite");

test.each(sqliteOnly)("a database that cannot grow refuses in words and loses nothing", async (variant) => {
  const server = await startTestServer(variant);
  const groupId = await server.group();
  const runnerId = await server.runner(groupId);
  const { sqlite } = server.deps.store;
  if (sqlite === undefined) throw new Error("this test needs SQLite");
  const put = (countId: string) =>
    server.coach.call("PUT /api/runners/:runnerId/counts/:countId", {
      params: { runnerId, countId },
      body: countOf(80, { purpose: "check" }),
    });
  const upload = () =>
    server.coach.call("PUT /api/runners/:runnerId/recordings/:recordingId", {
      params: { runnerId, recordingId: server.id() },
      query: { fileName: "run.gpx", phase: "before" },
      file: gpx(1),
    });
  const pages = Number(sqlite.pragma("page_count", { simple: true }));
  sqlite.pragma(`max_page_count = ${pages + 4}`);
  const kept: string[] = [];
  const refused = { status: 0, code: "" };
  for (let tries = 0; tries < 500 && refused.status === 0; tries += 1) {
    const countId = server.id();
    const answer = await put(countId);
    if (answer.status === 200) kept.push(countId);
    else Object.assign(refused, { status: answer.status, code: answer.problem.code });
  }
  expect(refused).toEqual({ status: 507, code: "disk-full" });
  expect(kept.length).toBeGreaterThan(0);
  expect((await upload()).problem.code).toBe("disk-full");
  expect((await server.coach.call("GET /api/groups/:groupId/week", { params: { groupId } })).status).toBe(200);
  sqlite.pragma("max_page_count = 1000000");
  const { items } = await server.coach.ok("GET /api/runners/:runnerId/counts", {
    params: { runnerId },
    query: { limit: 500 },
  });
  expect(items.map((item) => item.id).sort()).toEqual([...kept].sort());
  expect((await upload()).status).toBe(200);
  expect(integrityFaults(sqlite)).toEqual([]);
  await server.close();
});

/** A disk of our own, in memory: where this user may mount one. */
const disk = mkdtempSync(join(tmpdir(), "spondee-disk-"));
const isMounted = spawnSync("mount", ["-t", "tmpfs", "-o", "size=6m", "tmpfs", disk]).status === 0;
afterAll(() => {
  if (isMounted) spawnSync("umount", ["-l", disk]);
  rmSync(disk, { recursive: true, force: true });
});

describe.each(isMounted ? [disk] : [])("a real disk of 6 MB", (folder) => {
  const data = join(folder, "data");
  const filler = join(folder, "filler");
  /** Takes all room that is left. */
  const takeAllRoom = (): void => {
    const handle = openSync(filler, "a");
    try {
      for (const size of [65_536, 4096, 512, 1]) {
        const block = Buffer.alloc(size);
        try {
          for (;;) writeSync(handle, block);
        } catch {
          // Full for blocks of this size.
        }
      }
    } finally {
      closeSync(handle);
    }
  };
  const giveRoom = (): void => rmSync(filler, { force: true });
  const start = () => startServer({ dataDir: data, port: 0 });
  beforeAll(giveRoom);

  test("starting on it, writing to it and backing up on it are refused in words; with room again all is there", async () => {
    takeAllRoom();
    await expect(start()).rejects.toThrow(/disk is full/i);
    giveRoom();
    const server = await start();
    const call = async (cookie: string, method: string, path: string, body?: object | Buffer) => {
      const isFile = Buffer.isBuffer(body);
      const response = await fetch(`${server.address}${path}`, {
        method,
        headers: {
          cookie,
          "x-spondee": "1",
          ...(body === undefined ? {} : { "content-type": isFile ? "application/octet-stream" : "application/json" }),
        },
        ...(body === undefined ? {} : { body: isFile ? new Uint8Array(body) : JSON.stringify(body) }),
      });
      const said = (await response.json()) as { code?: string; items?: { id: string }[] };
      return { status: response.status, said, cookie: (response.headers.get("set-cookie") ?? "").split(";")[0] ?? "" };
    };
    const setUp = { code: server.setupCode, signInName: "coach", displayName: "C", password: "long enough password" };
    const { cookie } = await call("", "POST", "/api/setup", setUp);
    const id = (last: number): string => `01900000-0000-7000-8000-${String(last).padStart(12, "0")}`;
    const group = { name: "Invented", startsOn: "2026-03-05", weeks: 10, eveningWeekday: 4, timeZone: "UTC" };
    await call(cookie, "PUT", `/api/groups/${id(1)}`, group);
    await call(cookie, "PUT", `/api/groups/${id(1)}/runners/${id(2)}`, { name: "Ann" });
    const put = (n: number) => call(cookie, "PUT", `/api/runners/${id(2)}/counts/${id(n)}`, countOf(80));
    const kept: string[] = [];
    const write = async (n: number): Promise<{ status: number; code: string | undefined }> => {
      const { status, said } = await put(n);
      if (status === 200) kept.push(id(n));
      return { status, code: said.code };
    };
    expect((await write(100)).status).toBe(200);
    takeAllRoom();
    let last: Awaited<ReturnType<typeof write>> = { status: 200, code: undefined };
    for (let n = 101; n < 1500 && last.status === 200; n += 1) last = await write(n);
    expect(last).toEqual({ status: 507, code: "disk-full" });
    const recording = `/api/runners/${id(2)}/recordings/${id(50)}?fileName=run.gpx&phase=before`;
    expect((await call(cookie, "PUT", recording, gpx(1))).said.code).toBe("disk-full");
    expect((await call(cookie, "POST", "/api/backups")).said.code).toBe("disk-full");
    const listed = async () =>
      (await call(cookie, "GET", `/api/runners/${id(2)}/counts?limit=500`)).said.items?.map((item) => item.id).sort();
    expect(await listed()).toEqual(kept.slice(-500).sort());
    giveRoom();
    expect((await write(9999)).status).toBe(200);
    expect((await call(cookie, "PUT", recording, gpx(1))).status).toBe(200);
    await server.stop();
    takeAllRoom();
    await expect(start()).rejects.toThrow(/disk is full/i);
    giveRoom();
    const again = await start();
    await again.stop();
    expect(await checkIntegrity(data)).toEqual([]);
  });
});
