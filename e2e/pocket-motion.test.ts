// Steps live in a real browser, through its own motion sensor, against the batch analysis of what was recorded meanwhile.
import type { Browser, BrowserContext, CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { analyseRecording } from "../src/engine/analysis/analyse-recording.ts";
import { readPhoneRecording } from "../src/engine/recordings/phone-recording.ts";
import { launchBrowser } from "./support/browser.ts";
import { setUpCoach } from "./support/coach.ts";
import { readHeldRuns } from "./support/phone-memory.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const RUN_S = process.env["SPONDEE_LONG"] === "1" ? 60 : 18;
const RATE_SPM = 171;

let browser: Browser;
let context: BrowserContext;
let page: Page;
let sensors: CDPSession;
let server: RunningServer;
const dataDir = makeDataDir();

beforeAll(async () => {
  server = await startServer(dataDir);
  const coach = await setUpCoach(server.signInUrl);
  browser = await launchBrowser(["--autoplay-policy=no-user-gesture-required"]);
  context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  await context.grantPermissions(["accelerometer", "gyroscope", "geolocation"], { origin: server.origin });
  page = await context.newPage();
  page.setDefaultTimeout(20_000);
  sensors = await context.newCDPSession(page);
  // Before the page listens: all three, or no event comes.
  for (const type of ["accelerometer", "linear-acceleration", "gyroscope"] as const)
    await sensors.send("Emulation.setSensorOverrideEnabled", {
      enabled: true,
      type,
      metadata: { available: true, minimumFrequency: 1, maximumFrequency: 60 },
    });
  await page.goto(server.origin + (await coach.link()).address);
  await page.getByRole("button", { name: "I agree" }).click();
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

/** An invented gait on the sensor: gravity, a bounce at the step rate, a sway at half of it, impacts. */
function runOnTheSpot(): () => void {
  let going = true;
  const loop = async (): Promise<void> => {
    while (going) {
      const phase = (2 * Math.PI * RATE_SPM * performance.now()) / 60_000;
      const xyz = {
        x: 1.2 * Math.sin(phase / 2),
        y: 9.81 + 4 * Math.cos(phase) + 9 * Math.exp(6 * (Math.cos(phase) - 1)),
        z: 1.5 * Math.sin(phase + 0.7),
      };
      const still = { x: 0, y: 0, z: 0 };
      await Promise.all([
        sensors.send("Emulation.setSensorOverrideReadings", { type: "accelerometer", reading: { xyz } }),
        sensors.send("Emulation.setSensorOverrideReadings", {
          type: "linear-acceleration",
          reading: { xyz: { ...xyz, y: xyz.y - 9.81 } },
        }),
        sensors.send("Emulation.setSensorOverrideReadings", { type: "gyroscope", reading: { xyz: still } }),
      ]).catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, 8));
    }
  };
  void loop();
  return () => {
    going = false;
  };
}

describe("steps while they happen", { timeout: 1000 * (RUN_S + 60) }, () => {
  test(`outside tool: the browser's sensor at 60 Hz; live and batch agree within 1 spm from 5 s on`, async () => {
    const stop = runOnTheSpot();
    const press = (name: string) => page.getByRole("button", { name }).first().click();
    await press("Run it");
    await page.getByLabel("No", { exact: true }).check();
    await press("Start");
    await page.locator(".face").waitFor();
    await sensors.send("Performance.enable");
    const busyS = async () =>
      (await sensors.send("Performance.getMetrics")).metrics.find(({ name }) => name === "TaskDuration")?.value ?? 0;
    const shown: number[] = [];
    await page.waitForTimeout(6000);
    const busyBefore = await busyS();
    for (let look = 0; look < 2 * (RUN_S - 6); look += 1) {
      const text = await page.locator(".face .huge").innerText();
      shown.push(Number.parseInt(text, 10));
      await page.waitForTimeout(500);
    }
    const busyShare = ((await busyS()) - busyBefore) / (RUN_S - 6);
    await press("Pause or finish");
    await press("Finish");
    await page.getByRole("heading", { name: "How it went" }).waitFor();
    stop();

    const [run] = await readHeldRuns(page);
    const read = readPhoneRecording(run?.text ?? "", { fileName: "run" });
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const hz = (read.value.timeS.length - 1) / (read.value.timeS.at(-1) ?? 1);
    const analysed = analyseRecording(read.value);
    if (!analysed.ok) throw new Error(JSON.stringify(analysed.problems));
    const batch = analysed.value.windows.filter(
      ({ state, stepRateSpm }) => state === "running" && stepRateSpm !== null,
    );
    const batchSpm = batch.reduce((sum, { stepRateSpm }) => sum + (stepRateSpm ?? 0), 0) / batch.length;
    // eslint-disable-next-line no-console
    console.log(
      `live motion: ${hz.toFixed(0)} Hz, batch ${batchSpm.toFixed(2)} spm, shown ${[...new Set(shown)].join(" ")}, main thread busy ${(100 * busyShare).toFixed(1)} %`,
    );
    expect(hz).toBeGreaterThan(30);
    expect(Math.abs(batchSpm - RATE_SPM)).toBeLessThan(1);
    // Shown in whole steps: half a step of rounding on top.
    for (const spm of shown) expect(Math.abs(spm - batchSpm)).toBeLessThanOrEqual(1.5);
  });
});
