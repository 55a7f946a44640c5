// The phone page as a page: small, readable, reachable with a thumb, and of use without a secure connection.
import { gzipSync } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { type Coach, setUpCoach } from "./support/coach.ts";
import { type InsecureDoor, openInsecureDoor } from "./support/insecure-door.ts";
import { axeFaults, layoutFaults, leastContrast } from "./support/page-checks.ts";
import { giveGait } from "./support/phone-motion.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const MOST_SCRIPT_BYTES = 60_000;
const PLAIN_NAME = "field.test";

let browser: Browser;
let server: RunningServer;
let door: InsecureDoor;
let coach: Coach;
const dataDir = makeDataDir();

beforeAll(async () => {
  server = await startServer(dataDir);
  coach = await setUpCoach(server.signInUrl);
  door = await openInsecureDoor(server.origin);
  browser = await launchBrowser([
    "--autoplay-policy=no-user-gesture-required",
    `--host-resolver-rules=MAP ${PLAIN_NAME} 127.0.0.1`,
  ]);
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await door?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

async function openLink(context: BrowserContext, origin = server.origin): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  await page.goto(origin + (await coach.link()).address);
  await page.locator("h1").first().waitFor({ state: "attached" });
  return page;
}

const presser = (page: Page) => (name: string | RegExp) => page.getByRole("button", { name }).first().click();

describe("the phone page", { timeout: 120_000 }, () => {
  test("the first load is under 60 kB of script, gzipped; the token leaves the address at once; nothing goes elsewhere", async () => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, serviceWorkers: "block" });
    const page = await context.newPage();
    const noFaults = watchPage(page, server.origin);
    const scripts: Promise<Buffer>[] = [];
    page.on("response", (response) => {
      if (response.request().resourceType() === "script") scripts.push(response.body());
    });
    const { address, token } = await coach.link();
    await page.goto(server.origin + address);
    await page.getByRole("button", { name: "I agree" }).waitFor();
    const bytes = (await Promise.all(scripts)).reduce((sum, body) => sum + gzipSync(body).length, 0);
    expect(scripts.length).toBeGreaterThan(0);
    expect(bytes).toBeLessThan(MOST_SCRIPT_BYTES);
    expect(page.url()).toBe(`${server.origin}/run/`);
    await page.goBack().catch(() => null);
    expect(page.url()).not.toContain(token);
    noFaults();
    await context.close();
  });

  test("every screen, light and dark, 390 and 320 px: clean for axe, 48 px to press, 7:1 while running", async () => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, bypassCSP: true });
    await giveGait(context);
    const page = await openLink(context);
    const press = presser(page);
    const faults: string[] = [];
    const look = async (screen: string, contrastOf?: string): Promise<void> => {
      for (const colorScheme of ["light", "dark"] as const)
        for (const viewport of [
          { width: 390, height: 844 },
          { width: 320, height: 568 },
        ]) {
          await page.setViewportSize(viewport);
          await page.emulateMedia({ colorScheme });
          const found = [...(await axeFaults(page)), ...(await layoutFaults(page))];
          if (contrastOf !== undefined) {
            const { ratio, text } = await leastContrast(page, contrastOf);
            if (!(ratio >= 7)) found.push(`contrast ${ratio.toFixed(1)}:1 at "${text}"`);
          }
          faults.push(...found.map((fault) => `${screen}, ${viewport.width} px, ${colorScheme}: ${fault}`));
        }
    };
    await look("consent");
    await press("I agree");
    await page.getByRole("button", { name: "Run it" }).waitFor();
    await look("today");
    await press("Count a minute");
    await look("count");
    await press("I have a number");
    await page.getByLabel("Contacts in the minute").fill("171");
    await press("That is it");
    await page.getByText("usual for both feet").waitFor();
    await look("count, queried");
    await page.getByLabel("Both feet").check();
    await press("It is right as it stands");
    await look("count, measured");
    await press("Send to your coach");
    await press("Tap along");
    await look("tap");
    await page.goBack();
    await press("Learn the beat standing");
    await press("Start the beat");
    await page.getByText("Sound and touch").click();
    await look("learn");
    await press("I have it");
    await page.getByLabel("More", { exact: true }).check();
    await page.getByText("Do not start today").waitFor();
    await look("ready, hurts");
    await page.getByLabel("No", { exact: true }).check();
    await page.evaluate(() => (globalThis as unknown as { startGait(spm: number): void }).startGait(170));
    await press("Start");
    await page.locator(".face").getByText("170").waitFor();
    await look("run", ".run");
    await press("Pause or finish");
    await look("run, paused", ".run > .face");
    await press("Finish");
    await page.locator("fieldset.rating").nth(1).getByText("7", { exact: true }).click();
    await page.getByText("see a doctor or physiotherapist").first().waitFor();
    await look("after");
    await press("Send to your coach");
    await page.getByRole("button", { name: "Run it" }).waitFor();
    await press(/All sent|to send|Sending/);
    await press("Delete everything about me");
    await look("kept");
    expect(faults).toEqual([]);
    const pain = (await coach.json("GET", `/api/runners/${coach.runnerId}/pain`)) as { items: { score: number }[] };
    expect(pain.items.map(({ score }) => score)).toEqual([7]);
    await context.close();
  });

  test("without a secure connection it says what is missing and why, and still counts, taps, beats and sends", async () => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const page = await openLink(context, `http://${PLAIN_NAME}:${door.port}`);
    const press = presser(page);
    expect(await page.evaluate(() => isSecureContext)).toBe(false);
    // What was agreed to is known at the server; a new phone is not asked again.
    await page.getByText(/cannot count your steps while you run.*only on an https address/).waitFor();
    await press("Tap along");
    const pad = page.locator(".tap-pad");
    for (let tap = 0; tap < 24; tap += 1) {
      await pad.dispatchEvent("pointerdown").catch(() => undefined);
      if ((await page.getByRole("button", { name: "Send to your coach" }).count()) > 0) break;
      await page.waitForTimeout(700);
    }
    if ((await pad.count()) > 0) await press("That is enough");
    await press("Send to your coach");
    await press("Learn the beat standing");
    await press("Start the beat");
    await page.locator('.pulse[data-side="left"]').waitFor();
    await page.locator('.pulse[data-side="right"]').waitFor();
    await press("I have it");
    await page.getByLabel("No", { exact: true }).check();
    await press("Start");
    await page.getByText(/keeps the motion sensor to itself/).waitFor();
    await press("Pause or finish");
    await press("Finish");
    await page.locator("fieldset.rating").first().getByText("4", { exact: true }).click();
    await press("Send to your coach");
    await page.getByRole("button", { name: /All sent/ }).waitFor();
    const counts = (await coach.json("GET", `/api/runners/${coach.runnerId}/counts`)) as { items: { by: string }[] };
    expect(counts.items.filter(({ by }) => by === "runner").length).toBeGreaterThanOrEqual(1);
    await context.close();
  });
});
