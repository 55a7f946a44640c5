// The evening's work at the desk: thirty counted runners become dated plans, lanes and tracks, in under two minutes of clicking.
import { readFileSync } from "node:fs";
import type { Browser, Download, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const RUNNERS = 30;
/** A practised hand finds and presses a button in about this long. Common practice, no source. */
const SECONDS_A_CLICK = 1.5;
const SECONDS_A_KEY = 0.3;
const LIMIT_S = 120;

let browser: Browser;
let page: Page;
let server: RunningServer;
let noFaults: () => void;
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startServer(dataDir);
  page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, acceptDownloads: true })).newPage();
  page.setDefaultTimeout(30_000);
  noFaults = watchPage(page, server.origin, /401/);
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

const work = { clicks: 0, keys: 0 };
async function click(what: Locator): Promise<void> {
  work.clicks += 1;
  await what.click();
}
const link = (name: string | RegExp): Locator =>
  page.getByRole("link", { name, exact: typeof name === "string" }).first();
const button = (name: string | RegExp): Locator => page.getByRole("button", { name }).first();

async function api<T>(path: string, method = "GET", body?: unknown): Promise<T> {
  return page.evaluate(
    async ({ path, method, body }) => {
      const response = await fetch(path, {
        method,
        headers: { "x-spondee": "1", ...(body === undefined ? {} : { "content-type": "application/json" }) },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
      return (await response.json()) as never;
    },
    { path, method, body },
  );
}

/** Names in the central directory (APPNOTE 6.3, ZIP file format specification). */
function zipNames(zip: Buffer): string[] {
  const end = zip.lastIndexOf("PK\u0005\u0006", undefined, "latin1");
  const names: string[] = [];
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    const length = zip.readUInt16LE(at + 28);
    names.push(zip.toString("utf8", at + 46, at + 46 + length));
    at += 46 + length + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return names;
}

async function downloaded(start: () => Promise<void>): Promise<Buffer> {
  const [download] = await Promise.all([page.waitForEvent("download") as Promise<Download>, start()]);
  return readFileSync(await download.path());
}

interface Plan {
  readonly kind: string;
  readonly capSpm: number;
  readonly stages: { readonly stepRateSpm: number; readonly startsOn: string }[];
  readonly sessions: { readonly on: string }[];
}
interface Lanes {
  readonly lanes: {
    readonly beatSpm: number;
    readonly members: { readonly runnerId: string; readonly targetSpm: number }[];
  }[];
  readonly without: unknown[];
}

describe("an evening's group of thirty", { timeout: 290_000 }, () => {
  let groupId = "";
  let today = "";

  test("is imported and counted beforehand, with lap times", async () => {
    await page.goto(server.signInUrl);
    await page.getByLabel("Your name, as runners see it").fill("Coach Invented");
    await page.getByLabel("Name to sign in with").fill("coach");
    await page.getByLabel("Password").fill("a quiet field at dusk");
    await button("Set up").click();
    await button("New group").click();
    // Today is the evening: the form proposes it.
    await page.getByLabel("Name", { exact: true }).fill("Thirty (invented)");
    await button("Make the group").click();
    await page.waitForURL(/\/g\/[0-9a-f-]+\/runners/);
    groupId = new URL(page.url()).pathname.split("/")[2] ?? "";
    await link("Import a spreadsheet").click();
    const rows = Array.from(
      { length: RUNNERS },
      (_, index) => `Invented ${String.fromCharCode(65 + (index % 26))}${index},${160 + index}`,
    );
    await page.getByLabel("Or paste rows here").fill(`name,height (cm)\n${rows.join("\n")}\n`);
    await button("Look at it").click();
    await button(`Add ${RUNNERS} runners`).click();
    await page.getByText(`${RUNNERS} runners added.`).waitFor();
    const roster = await api<{ items: { runner: { id: string } }[] }>(`/api/groups/${groupId}/roster?limit=100`);
    const measuredAt = new Date(Date.now() - 3_600_000).toISOString();
    const counts = roster.items.flatMap(({ runner }, index) =>
      [0, 1].map((more) => ({
        id: crypto.randomUUID(),
        runnerId: runner.id,
        count: {
          way: "contacts-in-time",
          contacts: 76 + (index % 7) + more,
          seconds: 60,
          feet: "one",
          lapLengthM: 400,
          lapTimeS: 130 + 2 * (index % 12),
          measuredAt,
        },
      })),
    );
    const stored = await api<{ outcomes: { outcome: string }[] }>(`/api/groups/${groupId}/counts`, "PUT", { counts });
    expect(stored.outcomes.filter(({ outcome }) => outcome !== "stored")).toEqual([]);
  });

  test("goes from baselines to dated plans, lanes and tracks in under two minutes of clicking", async () => {
    await click(link("Runners"));
    await click(page.getByLabel("Pick all shown"));
    await click(button("Accept proposals"));
    await page.getByText(new RegExp(`${RUNNERS} accepted`)).waitFor();
    await click(link("Evening"));
    await click(page.getByText("Lanes", { exact: true }));
    await page
      .getByText(/^Lane 1/)
      .first()
      .waitFor();
    const laneZip = await downloaded(() => click(link("All lanes (ZIP)")));
    await click(link("Hand-outs"));
    const [tracks] = await Promise.all([page.waitForEvent("download"), click(button("All tracks (ZIP)"))]);
    // The archive of all thirty takes minutes to make; that its tracks are right is held by src/server/hand-outs.test.ts.
    await page.getByText(new RegExp(`^[1-9]\\d* of ${RUNNERS} tracks$`)).waitFor({ timeout: 120_000 });
    await tracks.cancel();
    const spentS = work.clicks * SECONDS_A_CLICK + work.keys * SECONDS_A_KEY;
    expect(work.clicks).toBeGreaterThan(5);
    expect(spentS, `${work.clicks} clicks, ${work.keys} keys`).toBeLessThan(LIMIT_S);

    // What all the clicking was for: a dated plan for each, and the evening served.
    const roster = await api<{ items: { runner: { id: string } }[] }>(`/api/groups/${groupId}/roster?limit=100`);
    const plans = new Map<string, Plan>();
    for (const { runner } of roster.items) plans.set(runner.id, await api<Plan>(`/api/runners/${runner.id}/plan`));
    const dates = [...plans.values()].map((plan) => plan.sessions[0]?.on ?? "");
    today = dates[0] ?? "";
    expect(today).toMatch(/^\d{4}-\d{2}-\d{2}$/);
    expect(new Set(dates)).toEqual(new Set([today]));
    for (const plan of plans.values()) expect(plan.sessions.length).toBeGreaterThan(9);
    const lanes = await api<Lanes>(`/api/groups/${groupId}/lanes?on=${today}`);
    const members = lanes.lanes.flatMap((lane) => lane.members);
    expect(new Set(members.map(({ runnerId }) => runnerId)).size).toBe(RUNNERS);
    for (const lane of lanes.lanes)
      for (const { runnerId, targetSpm } of lane.members) {
        expect(targetSpm).toBe(plans.get(runnerId)?.stages[0]?.stepRateSpm);
        expect(Math.abs(lane.beatSpm / targetSpm - 1)).toBeLessThanOrEqual(0.015 + 1e-9);
        expect(lane.beatSpm).toBeLessThanOrEqual(plans.get(runnerId)?.capSpm ?? 0);
      }
    expect(zipNames(laneZip)).toHaveLength(lanes.lanes.length);
    expect(tracks.suggestedFilename()).toBe(`tracks ${today}.zip`);
  });

  test("no page broke and nothing left this machine", () => {
    noFaults();
  });
});
