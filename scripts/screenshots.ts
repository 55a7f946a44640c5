// Pictures of every screen with the invented demo group: laptop, tablet and phone, light and dark, into screenshots/ for review;
// with --readme the five of the README into docs/pictures. Usage: npm run screenshots [-- --readme] [-- --size phone] [-- name …]
import { randomUUID } from "node:crypto";
import { mkdirSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { launchBrowser } from "../e2e/support/browser.ts";
import { makeDataDir, removeDataDir, startServer } from "../e2e/support/server.ts";
import { deskShots, type Places, type Shot } from "./screenshots/shots.ts";

const root = path.resolve(import.meta.dirname, "..");
const { values: options, positionals: wanted } = parseArgs({
  allowPositionals: true,
  options: { readme: { type: "boolean", default: false }, size: { type: "string" }, look: { type: "string" } },
});
const sizes: Readonly<Record<string, BrowserContextOptions>> = {
  laptop: { viewport: { width: 1280, height: 800 } },
  tablet: { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
};
const PAPER = { width: 794, height: 1123 };
const settleMs = 700;

const dataDir = makeDataDir();
const server = await startServer(dataDir, { demo: true });
const browser = await launchBrowser();
try {
  const first = await browser.newContext({ ...sizes["laptop"] });
  const page = await first.newPage();
  await page.goto(server.signInUrl);
  await page
    .getByRole("link", { name: /\(invented\)/ })
    .first()
    .waitFor();
  const state = await first.storageState();
  const places = await findPlaces(page);
  const phoneLink = await makeRunnerLink(page, places.changedId);
  await first.close();
  const shots = [...deskShots(places), ...phoneShots(phoneLink)];
  if (options.readme) await takeReadmePictures(browser, state, shots);
  else await takeAll(browser, state, shots);
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

interface RosterItem {
  readonly runner: { readonly id: string };
  readonly finding: string | null;
  readonly advice: string | null;
  readonly accepted: boolean;
}

async function findPlaces(page: Page): Promise<Places> {
  const groupId = (await api<{ items: { id: string }[] }>(page, "/api/groups")).items[0]!.id;
  const roster = (await api<{ items: RosterItem[] }>(page, `/api/groups/${groupId}/roster`)).items;
  const first = (fits: (row: RosterItem) => boolean): string => roster.find(fits)!.runner.id;
  const changedId = first(({ finding }) => finding === "changed");
  const recordings = await api<{ items: { id: string }[] }>(page, `/api/runners/${changedId}/recordings`);
  const emptyId = randomUUID();
  await api(page, `/api/groups/${emptyId}`, "PUT", {
    name: "An empty group",
    startsOn: "2026-01-07",
    weeks: 10,
    eveningWeekday: 3,
    timeZone: "UTC",
  });
  return {
    groupId,
    emptyId,
    changedId,
    waitingId: first(({ advice, accepted }) => advice === "change" && !accepted),
    fasterId: first(({ finding }) => finding === "faster-only"),
    unmeasuredId: first(({ advice }) => advice === "measure-first"),
    recordingId: recordings.items[0]!.id,
  };
}

async function makeRunnerLink(page: Page, runnerId: string): Promise<string> {
  const created = await api<{ address: string }>(page, `/api/runners/${runnerId}/links/${randomUUID()}`, "PUT", {});
  return created.address;
}

/** The runner's consent is asked once; afterwards today's page opens. */
function phoneShots(link: string): readonly Shot[] {
  const agree = async (page: Page): Promise<void> => {
    const button = page.getByRole("button", { name: "I agree" });
    if (await button.isVisible()) await button.click();
  };
  return [
    { name: "phone-consent", path: link },
    { name: "phone-today", path: link, prepare: agree },
  ];
}

type State = Awaited<ReturnType<BrowserContext["storageState"]>>;

async function takeAll(on: Browser, storageState: State, shots: readonly Shot[]): Promise<void> {
  for (const [size, device] of Object.entries(sizes)) {
    if (options.size !== undefined && options.size !== size) continue;
    for (const colorScheme of ["light", "dark"] as const) {
      if (options.look !== undefined && options.look !== colorScheme) continue;
      const folder = path.join(root, "screenshots", `${size}-${colorScheme}`);
      mkdirSync(folder, { recursive: true });
      const look = { ...device, colorScheme, locale: "en-GB", reducedMotion: "reduce" } as const;
      const shared = await on.newContext({ ...look, storageState });
      for (const shot of shots) {
        if (wanted.length > 0 && !wanted.includes(shot.name)) continue;
        const own =
          shot.signedOut === true || shot.ownContext === true
            ? await on.newContext({ ...look, ...(shot.signedOut === true ? {} : { storageState }) })
            : undefined;
        await take(own ?? shared, shot, path.join(folder, `${shot.name}.png`));
        await own?.close();
      }
      await shared.close();
    }
  }
}

async function takeReadmePictures(on: Browser, storageState: State, shots: readonly Shot[]): Promise<void> {
  const folder = path.join(root, "docs/pictures");
  mkdirSync(folder, { recursive: true });
  const named = (name: string): Shot => ({ ...shots.find((shot) => shot.name === name)!, windowOnly: true });
  const laptop = await on.newContext({ ...sizes["laptop"], colorScheme: "light", locale: "en-GB", storageState });
  for (const name of ["week", "runner", "evening", "recording"])
    await take(laptop, named(name), path.join(folder, `${name}.png`));
  const phone = await on.newContext({ ...sizes["phone"], colorScheme: "light", locale: "en-GB" });
  await take(phone, named("phone-today"), path.join(folder, "phone.png"));
}

async function take(context: BrowserContext, shot: Shot, file: string): Promise<void> {
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  if (shot.print === true) {
    await page.setViewportSize(PAPER);
    await page.emulateMedia({ media: "print" });
  }
  await page.goto(`${server.origin}${shot.path}`);
  await page.waitForTimeout(settleMs);
  try {
    await shot.prepare?.(page);
  } catch (error) {
    process.stderr.write(`${shot.name}: ${String(error).split("\n")[0]}\n`);
  }
  await page.waitForTimeout(settleMs);
  await page.screenshot({ path: file, fullPage: shot.windowOnly !== true });
  const overPx = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  await page.close();
  process.stdout.write(`${path.relative(root, file)}${overPx > 0 ? `  ${overPx} px wider than the window` : ""}\n`);
}
