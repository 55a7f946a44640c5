// A polite stop under load: whoever got a yes is stored, whoever did not is told or cut off, and the process ends.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { countOf } from "../../tests/scene.ts";
import { openStore } from "../store/index.ts";
import { checkIntegrity, startServer } from "./index.ts";

test("a stop in the middle of eighty writers loses nothing that was acknowledged", async () => {
  const folder = mkdtempSync(join(tmpdir(), "spondee-stop-"));
  const server = await startServer({ dataDir: folder, port: 0 });
  const id = (last: number): string => `01900000-0000-7000-8000-${String(last).padStart(12, "0")}`;
  let cookie = "";
  const call = (method: string, path: string, body: object) =>
    fetch(`${server.address}${path}`, {
      method,
      headers: { "content-type": "application/json", "x-spondee": "1", cookie },
      body: JSON.stringify(body),
    });
  const setUp = await call("POST", "/api/setup", {
    code: server.setupCode,
    signInName: "coach",
    displayName: "C",
    password: "long enough password",
  });
  cookie = (setUp.headers.get("set-cookie") ?? "").split(";")[0] ?? "";
  const group = { name: "Invented", startsOn: "2026-03-05", weeks: 10, eveningWeekday: 4, timeZone: "UTC" };
  await call("PUT", `/api/groups/${id(1)}`, group);
  await call("PUT", `/api/groups/${id(1)}/runners/${id(2)}`, { name: "Ann" });

  const acknowledged: string[] = [];
  const otherwise: (number | "cut off")[] = [];
  let next = 100;
  let running = true;
  const writer = async (): Promise<void> => {
    while (running) {
      const countId = id((next += 1));
      const status = await call("PUT", `/api/runners/${id(2)}/counts/${countId}`, countOf(80)).then(
        (response) => response.status,
        () => "cut off" as const,
      );
      if (status === 200) acknowledged.push(countId);
      else {
        otherwise.push(status);
        return;
      }
    }
  };
  const writers = Array.from({ length: 80 }, writer);
  await expect.poll(() => acknowledged.length, { timeout: 20_000, interval: 10 }).toBeGreaterThan(100);
  await server.stop();
  running = false;
  await Promise.all(writers);

  expect(otherwise.length, "some were still asking when it stopped").toBeGreaterThan(0);
  expect(otherwise.filter((status) => status !== "cut off" && status !== 503)).toEqual([]);
  const store = await openStore({ sqliteFile: join(folder, "spondee.sqlite") });
  const stored = new Set((await store.db.selectFrom("footCount").select("id").execute()).map((row) => row.id));
  await store.close();
  expect(acknowledged.filter((countId) => !stored.has(countId))).toEqual([]);
  expect(await checkIntegrity(folder)).toEqual([]);
  rmSync(folder, { recursive: true, force: true });
});
