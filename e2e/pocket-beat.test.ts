// The beat as it leaves the audio graph of a real browser, on a slow phone that also stalls, against the exact list.
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createBeatSchedule } from "../src/engine/beat/create-schedule.ts";
import { beatEvents } from "../src/engine/beat/events.ts";
import { launchBrowser } from "./support/browser.ts";
import { captureBeat, readCaptured } from "./support/captured-beat.ts";
import { setUpCoach } from "./support/coach.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const LONG = process.env["SPONDEE_LONG"] === "1";
const LISTEN_S = LONG ? 600 : 20;
const SLOWER = 6;
const RATE_SPM = 161.5;

let browser: Browser;
let context: BrowserContext;
let page: Page;
let server: RunningServer;
const dataDir = makeDataDir();

beforeAll(async () => {
  server = await startServer(dataDir);
  const coach = await setUpCoach(server.signInUrl);
  const { address } = await coach.link();
  browser = await launchBrowser(["--autoplay-policy=no-user-gesture-required"]);
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, bypassCSP: true });
  await captureBeat(context);
  page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.goto(server.origin + address);
  await page.getByRole("button", { name: "I agree" }).click();
  const cdp = await context.newCDPSession(page);
  await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

const press = (name: string) => page.getByRole("button", { name }).first().click();

async function onsetsAfter(listenS: number) {
  await page.waitForTimeout(1000 * listenS);
  return readCaptured(page);
}

describe("the live beat", { timeout: 1000 * (LISTEN_S + 90) }, () => {
  test(`closed form: over ${LISTEN_S} s on a page slowed ${SLOWER} times, stalls included, every click is within 1 ms of 60·k/${RATE_SPM} s, none missed, none doubled`, async () => {
    await press("Learn the beat standing");
    await press("Start the beat");
    // Script is stopped for seconds at a time: collecting garbage, a call coming in, anything.
    for (const stallMs of [3000, 8000]) {
      await page.waitForTimeout(1000 * (LISTEN_S / 6));
      await page.evaluate((ms) => {
        const until = performance.now() + ms;
        while (performance.now() < until);
      }, stallMs);
    }
    const { sampleRateHz, onsets } = await onsetsAfter((LISTEN_S * 2) / 3 - 11);
    expect(onsets.length).toBeGreaterThan(((LISTEN_S - 8) * RATE_SPM) / 60);
    const schedule = createBeatSchedule({ stepRateSpm: RATE_SPM, durationS: 1200 }, { sampleRateHz });
    if (!schedule.ok) throw new Error("no schedule");
    const exact = [...beatEvents(schedule.value)].slice(0, onsets.length).map((event) => event.timeS);
    const [first = 0] = onsets;
    const worst = { beat: 0, offMs: 0 };
    for (const [beat, onset] of onsets.entries()) {
      const offMs = 1000 * Math.abs((onset - first) / sampleRateHz - (exact[beat] ?? Number.NaN));
      if (!(offMs <= worst.offMs)) Object.assign(worst, { beat, offMs });
    }
    expect(worst.offMs, `beat ${worst.beat} of ${onsets.length}`).toBeLessThan(1);
    // eslint-disable-next-line no-console
    console.log(`live beat: ${onsets.length} clicks in ${LISTEN_S} s, worst ${worst.offMs.toFixed(3)} ms off`);
  });

  test("property: through three nudges every interval lies between those of the old and the new rate", async () => {
    const before = (await readCaptured(page)).onsets.length;
    for (let nudge = 0; nudge < 3; nudge += 1) {
      await page.getByRole("button", { name: "+ 1" }).click();
      await page.waitForTimeout(1700);
    }
    const { sampleRateHz, onsets } = await onsetsAfter(2);
    const fresh = onsets.slice(Math.max(0, before - 1));
    expect(fresh.length).toBeGreaterThan(15);
    const intervalsS = fresh.slice(1).map((onset, index) => (onset - (fresh[index] ?? 0)) / sampleRateHz);
    for (const intervalS of intervalsS) {
      expect(intervalS).toBeLessThan(60 / RATE_SPM + 0.001);
      expect(intervalS).toBeGreaterThan(60 / (RATE_SPM + 3) - 0.001);
    }
    expect(Math.abs((intervalsS.at(-1) ?? 0) - 60 / (RATE_SPM + 3))).toBeLessThan(0.001);
  });

  test("stopping is silence at once, and no click comes late", async () => {
    await press("Stop the beat");
    await page.waitForTimeout(300);
    const stopped = (await readCaptured(page)).onsets.length;
    expect((await onsetsAfter(2)).onsets.length).toBe(stopped);
  });
});
