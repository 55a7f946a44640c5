// The whole job in a real browser against the real server: from an empty folder to a proven change that survives a restart.
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { inventedGpx } from "../tests/invented-runs.ts";
import { clickTimesS } from "./support/click-times.ts";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const roster = "name,height (cm)\nAda Invented,168\nBo Invented,181\nCy Invented,175\nDi Invented,170\n";
/** Contacts of one foot in a minute, in the order of the roster; Cy's counted both feet. */
const counts = ["78", "80", "158", "87"];
const DAY_MS = 86_400_000;

let browser: Browser;
let context: BrowserContext;
let page: Page;
let server: RunningServer;
let noFaults: () => void;
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser(["--autoplay-policy=no-user-gesture-required"]);
  server = await startServer(dataDir);
  context = await browser.newContext({ viewport: { width: 1280, height: 800 }, acceptDownloads: true });
  page = await context.newPage();
  page.setDefaultTimeout(15_000);
  noFaults = watchPage(page, server.origin, /401|ERR_CONNECTION_(REFUSED|RESET)/);
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

afterEach(async ({ task }) => {
  // A picture of where the story got stuck, for whoever has to find out.
  const folder = process.env["SPONDEE_FAILURE_PICTURES"];
  if (folder !== undefined && task.result?.state === "fail")
    await page.screenshot({ path: `${folder}/${task.name.slice(0, 40)}.png`, fullPage: true });
});

const open = (name: string | RegExp) => page.getByRole("link", { name }).first().click();
const press = (name: string | RegExp) => page.getByRole("button", { name }).first().click();

/** A runner's line in the week's list. */
const line = (name: string) => page.locator("li[data-runner]").filter({ has: page.getByRole("link", { name }) });

describe("a coach's story", { timeout: 120_000 }, () => {
  test("sets up, makes a group and imports the roster", async () => {
    await page.goto(server.signInUrl);
    await page.getByLabel("Your name, as runners see it").fill("Coach Invented");
    await page.getByLabel("Name to sign in with").fill("coach");
    await page.getByLabel("Password").fill("a quiet field at dusk");
    await press("Set up");
    await press("New group");
    await page.getByLabel("Name", { exact: true }).fill("Story group (invented)");
    await press("Make the group");
    await open("Runners");
    await open("Import a spreadsheet");
    await page.getByLabel("Or paste rows here").fill(roster);
    await press("Look at it");
    await press("Add 4 runners");
    await page.getByRole("link", { name: "Ada Invented" }).waitFor();
  });

  test("runs the clock to its end", async () => {
    await open("Evening");
    await page.getByText("15 s", { exact: true }).click();
    await press("Start");
    await page.getByText("Stop counting").waitFor({ timeout: 30_000 });
    await page.getByText("60 s", { exact: true }).click();
  });

  test("types the counts with lap times; a count of both feet is asked about", async () => {
    await page.getByText("With lap times, surface, beat").click();
    await page.getByLabel("With lap times", { exact: true }).check();
    await page.getByLabel("Lap, metres").fill("400");
    for (const [index, name] of ["Ada", "Bo", "Cy", "Di"].entries()) {
      await page.getByLabel(`Lap time of ${name} Invented`).fill("2:23");
      await page.getByLabel(`Count of ${name} Invented`).fill(counts[index]!);
      await page.keyboard.press("Enter");
    }
    await press("It was both feet");
    await page.getByText("4 of 4 counted").waitFor();
    await expect.poll(() => page.getByText("sent", { exact: true }).count()).toBe(4);
  });

  test("accepts the proposals in bulk", async () => {
    await open("Runners");
    await page.getByLabel("Pick all shown").check();
    await press("Accept proposals");
    await page.getByText(/4 accepted/).waitFor();
  });

  test("downloads a beat track whose clicks are the target's, measured from the audio itself", async () => {
    await open("Ada Invented");
    const link = page.getByRole("link", { name: "Beat track" }).first();
    const address = await link.getAttribute("href");
    const target = await page.evaluate(async (id) => {
      const response = await fetch(`/api/runners/${id}/plan`, { headers: { "x-spondee": "1" } });
      return ((await response.json()) as { stages: { stepRateSpm: number }[] }).stages[0]!.stepRateSpm;
    }, page.url().split("/").at(-1)!);
    expect(target).toBeGreaterThan(156);
    const { timesS, peak } = await clickTimesS(page, address!);
    const gapsS = timesS.slice(1).map((time, index) => time - timesS[index]!);
    const onBeat = gapsS.filter((gap) => Math.abs(gap - 60 / target) < 0.0005);
    expect(onBeat.length).toBeGreaterThan(300);
    // Nothing else in between: any other gap is a pause, a count-in or an announcement's tones.
    expect(
      gapsS.filter((gap) => gap > 0.25 && gap < 0.45 && Math.abs(gap - 60 / target) >= 0.0005).length,
    ).toBeLessThan(20);
    expect(peak).toBeLessThan(1);
  });

  test("uploads runs before and after, and reads the finding", async () => {
    const files = (prefix: string, stepRateSpm: number, daysAgo: number, seed: number) =>
      [0, 1, 2].map((index) => ({
        name: `${prefix}-${index + 1}.gpx`,
        mimeType: "application/gpx+xml",
        buffer: Buffer.from(
          inventedGpx({
            speedMps: 2.8,
            stepRateSpm,
            minutes: 22,
            daySdPercent: 0.6,
            seed: seed + index,
            startedAtMs: Date.now() - (daysAgo + 2 * index) * DAY_MS,
          }),
        ),
      }));
    await page.getByText("before", { exact: true }).first().click();
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles(files("before", 157, 20, 40));
    await page.getByText("before-3.gpx").first().waitFor();
    await page.getByText("after", { exact: true }).first().click();
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles(files("after", 167, 0.1, 70));
    await page.getByText("after-3.gpx").first().waitFor();
    await page
      .getByText(/spm quicker at the same speed/)
      .first()
      .waitFor({ timeout: 30_000 });
  });

  test("confirms the week's decision, undoes it and confirms it again", async () => {
    await open("This week");
    const confirm = page.getByRole("button", { name: /^Confirm .* for Ada Invented$/ });
    await confirm.click();
    await line("Ada Invented").getByText("Confirmed").waitFor();
    // The only Undo on the screen is the latest change's: earlier ones have given theirs up.
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    await page.getByText("Undone.").waitFor();
    await confirm.click();
    await line("Ada Invented").getByText("Confirmed").waitFor();
  });

  test("finds everything still there after the server was killed and started again", async () => {
    const port = Number(new URL(server.origin).port);
    await server.kill();
    server = await startServer(dataDir, { port });
    await page.goto(`${server.origin}/`);
    await open(/Story group/);
    await open("Runners");
    await open("Ada Invented");
    await page
      .getByText(/spm quicker at the same speed/)
      .first()
      .waitFor();
    await page.getByText("after-3.gpx").first().waitFor();
    await open("This week");
    await line("Ada Invented").getByText("Confirmed").waitFor();
    noFaults();
  });
});
