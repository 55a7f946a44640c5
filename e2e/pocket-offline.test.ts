// The field without a signal: the server is gone, the phone dies mid-run again and again, and in the end the coach has every run
// exactly once, byte for byte as the phone kept it.
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createRandom } from "../src/engine/quantities/random.ts";
import { type Coach, setUpCoach } from "./support/coach.ts";
import { giveGait } from "./support/phone-motion.ts";
import { type HeldRun, readHeldRuns } from "./support/phone-memory.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const ROUNDS = process.env["SPONDEE_LONG"] === "1" ? 50 : 2;
/** What is written every two seconds, and a little for a busy machine. */
const MOST_LOST_MS = 4500;

const dataDir = makeDataDir();
const profile = mkdtempSync(path.join(os.tmpdir(), "spondee-phone-"));
const random = createRandom(ROUNDS);
let server: RunningServer | undefined;
let coach: Coach;
let port = 0;
let token = "";
let context: BrowserContext | undefined;

const between = (low: number, high: number): number => low + (high - low) * random.next();

async function openPhone(at: string): Promise<Page> {
  context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env["SPONDEE_CHROMIUM"] ?? "/usr/bin/chromium",
    viewport: { width: 390, height: 844 },
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"],
  });
  await giveGait(context);
  const page = context.pages()[0] ?? (await context.newPage());
  page.setDefaultTimeout(15_000);
  await page.goto(`http://127.0.0.1:${port}${at}`);
  await page.locator("h1").first().waitFor({ state: "attached" });
  return page;
}

/** As a battery that is empty: no goodbye of any kind. */
async function killPhone(): Promise<void> {
  const dying = context;
  context = undefined;
  const closed = dying?.waitForEvent("close", { timeout: 10_000 });
  const cdp = await dying
    ?.browser()
    ?.newBrowserCDPSession()
    .catch(() => undefined);
  const { processInfo } = (await cdp?.send("SystemInfo.getProcessInfo")) ?? { processInfo: [] };
  const main = processInfo.find((one) => one.type === "browser");
  if (main === undefined) throw new Error("killPhone: the browser's own process was not found");
  process.kill(main.id, "SIGKILL");
  await closed;
}

const press = (page: Page, name: string) => page.getByRole("button", { name }).first().click();

async function startRun(page: Page): Promise<void> {
  await press(page, "Run it");
  await page.getByLabel("No", { exact: true }).check();
  await page.evaluate(() => (globalThis as unknown as { startGait(spm: number): void }).startGait(166));
  await press(page, "Start");
  await page.locator(".face").waitFor();
}

async function finishRun(page: Page): Promise<void> {
  await press(page, "Pause or finish");
  await press(page, "Finish");
  await page.getByRole("heading", { name: "How it went" }).waitFor();
}

beforeAll(async () => {
  server = await startServer(dataDir);
  port = Number(new URL(server.origin).port);
  coach = await setUpCoach(server.signInUrl);
  ({ token } = await coach.link());
  const page = await openPhone(`/run/#${token}`);
  await press(page, "I agree");
  await page.getByRole("button", { name: "Run it" }).waitFor();
  await page.waitForFunction(async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.active?.state === "activated";
  });
  // Consent is on its way before the signal is gone.
  await page.getByRole("button", { name: /All sent/ }).waitFor();
  await server.stop();
  server = undefined;
  await killPhone();
}, 120_000);

afterAll(async () => {
  await context?.close();
  await server?.stop();
  removeDataDir(dataDir);
  rmSync(profile, { recursive: true, force: true });
});

describe("a field without a signal", { timeout: 40_000 * ROUNDS + 120_000 }, () => {
  test(`${ROUNDS} runs cut off at random: each goes on or is finished, and what was written is never lost`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      let page = await openPhone("/run/");
      await startRun(page);
      const ranMs = between(2600, 6000);
      await page.waitForTimeout(ranMs);
      await killPhone();

      page = await openPhone("/run/");
      await page.getByRole("heading", { name: "A run was cut off" }).waitFor();
      const cut = (await readHeldRuns(page)).find((run) => run.state === "recording");
      expect(cut, `round ${round}: the run is there`).toBeDefined();
      expect(cut?.lastTimeMs, `round ${round}: little is lost`).toBeGreaterThan(ranMs - MOST_LOST_MS);
      const before = cut?.text ?? "";

      const goesOn = round % 2 === 0;
      if (goesOn) {
        await page.evaluate(() => (globalThis as unknown as { startGait(spm: number): void }).startGait(166));
        await press(page, "Go on with it");
        await page.locator(".face").waitFor();
        await page.waitForTimeout(between(200, 2600));
        await finishRun(page);
      } else {
        await press(page, "Finish it here");
        await page.getByRole("heading", { name: "How it went" }).waitFor();
      }
      const held = (await readHeldRuns(page)).find((run) => run.id === cut?.id);
      expect(held?.state).toBe("ended");
      expect(held?.text.startsWith(before), `round ${round}: nothing written before was changed`).toBe(true);
      expect(held?.text.endsWith("\n") && held.text.includes('{"kind":"end"')).toBe(true);
      // Now and then it dies again right after the end.
      if (random.next() < 0.5) await killPhone();
      else {
        await context?.close();
        context = undefined;
      }
    }
  });

  test("back on line, also cut off while sending, the coach has every run once, byte for byte", async () => {
    server = await startServer(dataDir, { port });
    let page = await openPhone("/run/");
    await page.waitForTimeout(between(0, 150));
    await killPhone();
    page = await openPhone("/run/");
    await page.getByRole("button", { name: /All sent/ }).waitFor({ timeout: 60_000 });
    const held = await readHeldRuns(page);
    expect(held).toHaveLength(ROUNDS);
    const stored = (await coach.json("GET", `/api/runners/${coach.runnerId}/recordings?limit=500`)) as {
      items: { id: string; contentSha256: string }[];
    };
    expect(stored.items.map((one) => one.id).sort()).toEqual(held.map((run: HeldRun) => run.id).sort());
    for (const run of held) {
      expect(run.state).toBe("sent");
      const bytes = await coach.bytes(`/api/runners/${coach.runnerId}/recordings/${run.id}/file`);
      expect(Buffer.from(bytes).toString("utf8")).toBe(run.text);
      const sha256 = createHash("sha256").update(bytes).digest("hex");
      expect(stored.items.find((one) => one.id === run.id)?.contentSha256).toBe(sha256);
    }
  });

  test("an ended link stops the sending in words, keeps everything, and a new link sends it", async () => {
    const page = context?.pages()[0];
    if (page === undefined) throw new Error("the phone is closed");
    const links = (await coach.json("GET", `/api/runners/${coach.runnerId}/links`)) as { items: { id: string }[] };
    for (const { id } of links.items) await coach.json("DELETE", `/api/runners/${coach.runnerId}/links/${id}`);
    await page.goto(`http://127.0.0.1:${port}/run/`);
    await page.getByRole("button", { name: /Link has ended/ }).waitFor();
    await press(page, "How it went");
    await page.locator("fieldset.rating").first().getByText("4", { exact: true }).click();
    await press(page, "Send to your coach");
    await press(page, "Link has ended");
    await page.getByText("Ask your coach for a new one").waitFor();
    expect(await page.getByText("How it went,").count()).toBe(1);
    const fresh = await coach.link();
    await page.goto("about:blank");
    await page.goto(`http://127.0.0.1:${port}${fresh.address}`);
    await page.getByRole("button", { name: /All sent/ }).waitFor();
    expect(page.url()).not.toContain(fresh.token);
    const reports = (await coach.json("GET", `/api/runners/${coach.runnerId}/reports`)) as { items: object[] };
    expect(reports.items).toHaveLength(1);
  });

  test("another runner's link never sends what this runner recorded", async () => {
    const page = context?.pages()[0];
    if (page === undefined) throw new Error("the phone is closed");
    await server?.stop();
    server = undefined;
    await press(page, "How it went");
    await page.locator("fieldset.rating").first().getByText("9", { exact: true }).click();
    await press(page, "Send to your coach");
    await page.getByRole("button", { name: /1 to send/ }).waitFor();
    server = await startServer(dataDir, { port });
    const other = await coach.otherRunner();
    await page.goto("about:blank");
    await page.goto(`http://127.0.0.1:${port}${other.address}`);
    await press(page, "I agree");
    await press(page, "Needs a look");
    await page.getByText("Open that link to send it").waitFor();
    const reports = (await coach.json("GET", `/api/runners/${other.runnerId}/reports`)) as { items: object[] };
    expect(reports.items).toHaveLength(0);
  });

  test("deleting everything empties the phone and the server", async () => {
    const page = context?.pages()[0];
    if (page === undefined) throw new Error("the phone is closed");
    const fresh = await coach.link();
    await page.goto("about:blank");
    await page.goto(`http://127.0.0.1:${port}${fresh.address}`);
    await page.getByRole("button", { name: /All sent/ }).click();
    await press(page, "Delete everything about me");
    await press(page, "Yes, delete everything");
    await page.getByRole("heading", { name: "Open your own link" }).waitFor();
    await expect(coach.json("GET", `/api/runners/${coach.runnerId}`)).rejects.toThrow("404");
    expect(await readHeldRuns(page)).toEqual([]);
    expect(await page.evaluate(() => localStorage.length)).toBe(0);
  });
});
