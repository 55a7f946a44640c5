// Every screen of the desk with the invented group, by machine: all rules of axe-core (WCAG 2.2 A and AA among them), light
// and dark, laptop and phone; and no sideways scroll at the phone's width.
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser } from "./support/browser.ts";
import { axeFaults } from "./support/page-checks.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const looks = [
  { name: "light laptop", viewport: { width: 1280, height: 800 }, colorScheme: "light" },
  { name: "dark phone", viewport: { width: 360, height: 780 }, colorScheme: "dark" },
] as const;

let browser: Browser;
let server: RunningServer;
let storageState: Awaited<ReturnType<Page["context"]>["storageState"] extends () => infer State ? State : never>;
let addresses: Record<string, string>;
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startServer(dataDir, { demo: true });
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(server.signInUrl);
  await page
    .getByRole("link", { name: /\(invented\)/ })
    .first()
    .waitFor();
  storageState = await context.storageState();
  addresses = await findScreens(page);
  await context.close();
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

describe.each(looks)("$name", (look) => {
  test("every screen is free of axe's faults and of sideways scroll", { timeout: 180_000 }, async () => {
    const context = await browser.newContext({ ...look, storageState, bypassCSP: true });
    const page = await context.newPage();
    const faults: string[] = [];
    for (const [name, address] of Object.entries(addresses)) {
      await page.goto(`${server.origin}${address}`);
      await page.locator("h1").first().waitFor();
      await page.waitForTimeout(400);
      faults.push(...(await axeFaults(page)).map((fault) => `${name}: ${fault}`));
      const overflowPx = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (overflowPx > 0) faults.push(`${name}: ${overflowPx} px wider than the window`);
    }
    await context.close();
    expect(faults).toEqual([]);
  });
});

async function findScreens(page: Page): Promise<Record<string, string>> {
  const get = <Answer>(address: string): Promise<Answer> =>
    page.evaluate(
      async (url) => (await fetch(url, { headers: { "x-spondee": "1" } })).json(),
      address,
    ) as Promise<Answer>;
  const groupId = (await get<{ items: { id: string }[] }>("/api/groups")).items[0]!.id;
  const roster = await get<{ items: { runner: { id: string }; finding: string | null }[] }>(
    `/api/groups/${groupId}/roster`,
  );
  const runnerId = roster.items.find(({ finding }) => finding === "changed")!.runner.id;
  const recordings = await get<{ items: { id: string }[] }>(`/api/runners/${runnerId}/recordings`);
  const group = `/g/${groupId}`;
  return {
    groups: "/",
    week: `${group}/week`,
    runners: `${group}/runners`,
    runner: `${group}/runners/${runnerId}`,
    recording: `${group}/runners/${runnerId}/recordings/${recordings.items[0]!.id}`,
    print: `${group}/runners/${runnerId}/print`,
    cards: `${group}/runners/${runnerId}/cards`,
    "slow motion": `${group}/runners/${runnerId}/video`,
    evening: `${group}/evening`,
    practice: `${group}/practice`,
    "hand-outs": `${group}/hand-outs`,
    programme: `${group}/programme`,
    settings: `${group}/settings`,
    import: `${group}/import`,
    account: "/account",
    help: "/help",
  };
}
