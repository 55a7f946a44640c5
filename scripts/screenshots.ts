// Pictures of every screen with the invented demo group: laptop and phone, light and dark, into screenshots/ for review;
// with --readme the five of the README into docs/pictures. Usage: npm run screenshots [-- --readme]
import { randomUUID } from "node:crypto";
import { mkdirSync } from "node:fs";
import path from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { launchBrowser } from "../e2e/support/browser.ts";
import { makeDataDir, removeDataDir, startServer } from "../e2e/support/server.ts";

const root = path.resolve(import.meta.dirname, "..");
const readme = process.argv.includes("--readme");
const sizes = { laptop: { width: 1280, height: 800 }, phone: { width: 390, height: 844 } } as const;
const settleMs = 1200;

interface Shot {
  readonly name: string;
  readonly path: string;
  /** Something to do before the picture. */
  readonly prepare?: (page: Page) => Promise<void>;
}

const dataDir = makeDataDir();
const server = await startServer(dataDir, { demo: true });
const browser = await launchBrowser();
try {
  const first = await browser.newContext({ viewport: sizes.laptop });
  const page = await first.newPage();
  await page.goto(server.signInUrl);
  await page
    .getByRole("link", { name: /\(invented\)/ })
    .first()
    .waitFor();
  const storageState = await first.storageState();
  const deskShots = await findDeskShots(page);
  const phoneLink = await makeRunnerLink(page);
  await first.close();
  if (readme) await takeReadmePictures(browser, storageState, deskShots, phoneLink);
  else await takeAll(browser, storageState, deskShots, phoneLink);
} finally {
  await browser.close();
  await server.stop();
  removeDataDir(dataDir);
}

async function api<Answer>(page: Page, address: string, method = "GET", body?: unknown): Promise<Answer> {
  return page.evaluate(
    async ({ url, verb, content }) => {
      const headers: Record<string, string> = {
        "x-spondee": "1",
        ...(content === undefined ? {} : { "content-type": "application/json" }),
      };
      const response = await fetch(url, {
        method: verb,
        headers,
        ...(content === undefined ? {} : { body: JSON.stringify(content) }),
      });
      return response.json();
    },
    { url: address, verb: method, content: body },
  ) as Promise<Answer>;
}

async function findDeskShots(page: Page): Promise<readonly Shot[]> {
  const groups = await api<{ items: { id: string }[] }>(page, "/api/groups");
  const groupId = groups.items[0]!.id;
  const roster = await api<{ items: { runner: { id: string; name: string }; finding: string | null }[] }>(
    page,
    `/api/groups/${groupId}/roster`,
  );
  const changed = roster.items.find(({ finding }) => finding === "changed")!.runner.id;
  const recordings = await api<{ items: { id: string }[] }>(page, `/api/runners/${changed}/recordings`);
  const group = `/g/${groupId}`;
  return [
    { name: "groups", path: "/" },
    { name: "week", path: `${group}/week` },
    { name: "runners", path: `${group}/runners` },
    { name: "runner", path: `${group}/runners/${changed}` },
    { name: "recording", path: `${group}/runners/${changed}/recordings/${recordings.items[0]!.id}` },
    { name: "runner-print", path: `${group}/runners/${changed}/print` },
    { name: "slow-motion", path: `${group}/runners/${changed}/video` },
    { name: "evening", path: `${group}/evening` },
    {
      name: "lanes",
      path: `${group}/evening`,
      prepare: (at) => at.getByText("Lanes", { exact: true }).first().click(),
    },
    { name: "programme", path: `${group}/programme` },
    { name: "settings", path: `${group}/settings` },
    { name: "import", path: `${group}/import` },
  ];
}

/** A link for the runner who is furthest along; its page is what the runner sees. */
async function makeRunnerLink(page: Page): Promise<string> {
  const groups = await api<{ items: { id: string }[] }>(page, "/api/groups");
  const roster = await api<{ items: { runner: { id: string }; targetSpm: number | null }[] }>(
    page,
    `/api/groups/${groups.items[0]!.id}/roster`,
  );
  const runnerId = roster.items.find(({ targetSpm }) => targetSpm !== null)!.runner.id;
  const created = await api<{ address: string }>(page, `/api/runners/${runnerId}/links/${randomUUID()}`, "PUT", {});
  return created.address;
}

/** The runner's consent is asked once; afterwards today's page opens. */
async function agree(page: Page): Promise<void> {
  const button = page.getByRole("button", { name: "I agree" });
  if (await button.isVisible()) await button.click();
}

type State = Awaited<ReturnType<BrowserContext["storageState"]>>;

async function takeAll(on: Browser, storageState: State, desk: readonly Shot[], phoneLink: string): Promise<void> {
  for (const [size, viewport] of Object.entries(sizes)) {
    for (const colorScheme of ["light", "dark"] as const) {
      const folder = path.join(root, "screenshots", `${size}-${colorScheme}`);
      mkdirSync(folder, { recursive: true });
      const context = await on.newContext({ viewport, colorScheme, storageState });
      for (const shot of desk) await take(context, shot, path.join(folder, `${shot.name}.png`), true);
      await take(context, { name: "consent", path: phoneLink }, path.join(folder, "phone-consent.png"), true);
      await take(
        context,
        { name: "today", path: phoneLink, prepare: agree },
        path.join(folder, "phone-today.png"),
        true,
      );
      await context.close();
    }
  }
}

async function takeReadmePictures(
  on: Browser,
  storageState: State,
  desk: readonly Shot[],
  phoneLink: string,
): Promise<void> {
  const folder = path.join(root, "docs/pictures");
  mkdirSync(folder, { recursive: true });
  const laptop = await on.newContext({ viewport: sizes.laptop, colorScheme: "light", storageState });
  for (const name of ["week", "runner", "evening", "recording"]) {
    await take(laptop, desk.find((shot) => shot.name === name)!, path.join(folder, `${name}.png`), false);
  }
  const phone = await on.newContext({ viewport: sizes.phone, colorScheme: "light" });
  await take(phone, { name: "phone", path: phoneLink, prepare: agree }, path.join(folder, "phone.png"), false);
}

async function take(context: BrowserContext, shot: Shot, file: string, fullPage: boolean): Promise<void> {
  const page = await context.newPage();
  await page.goto(`${server.origin}${shot.path}`);
  await page.waitForTimeout(settleMs);
  await shot.prepare?.(page);
  await page.waitForTimeout(settleMs);
  await page.screenshot({ path: file, fullPage });
  await page.close();
  process.stdout.write(`${path.relative(root, file)}\n`);
}
