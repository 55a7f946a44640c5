// A slow-motion clip at the desk, by keys: every step shows the very next picture, the marks give the times that were put into
// it, and the clip itself goes nowhere.
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { CLIP, makeCountedClip, shownPicture } from "./support/counted-clip.ts";
import { type Desk, makeGroup, openDesk, pictureOfFailure, setUpDesk } from "./support/desk.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const WHO = "Ada Invented";
const FILE_HZ = 30;
const FILMED_HZ = 240;
const PICTURES = 150;
/** Two contacts of 48 pictures, 80 from one landing to the next: 200 ms of 1/3 s. */
const MARKS = [
  { key: "c", at: 10 },
  { key: "t", at: 58 },
  { key: "c", at: 90 },
  { key: "t", at: 138 },
];
/** In the clip's own pixels. A shank of 30 across and 40 down is 50 long; the ankle is 40 ahead of the hip. */
const POINTS = [
  { x: 200, y: 70 },
  { x: 210, y: 130 },
  { x: 240, y: 170 },
  { x: 262, y: 175 },
];

let browser: Browser;
let server: RunningServer;
let desk: Desk;
let noFaults: () => void;
let runnerId = "";
const sent: { readonly method: string; readonly bytes: number }[] = [];
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startServer(dataDir);
  desk = await openDesk(browser);
  noFaults = watchPage(desk.page, server.origin, /401/);
  await setUpDesk(desk, server.signInUrl);
  const startsOn = new Date().toISOString().slice(0, 10);
  const made = await makeGroup(desk, { name: "Clips (invented)", startsOn }, [{ name: WHO }]);
  runnerId = made.runnerIds.get(WHO)!;
  desk.page.on("request", (request) => {
    if (request.method() !== "GET")
      sent.push({ method: request.method(), bytes: request.postDataBuffer()?.length ?? 0 });
  });
  await desk.page.goto(`${server.origin}/g/${made.groupId}/runners/${runnerId}/video`);
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

afterEach((context) => pictureOfFailure(desk.page, context));

/** Steps with the arrows, tens by Shift, until the screen says this frame; the picture must be that one. */
async function stepTo(from: number, to: number): Promise<void> {
  const { page } = desk;
  for (let tens = Math.trunc((to - from) / 10); tens > 0; tens -= 1) await page.keyboard.press("Shift+ArrowRight");
  for (let ones = (to - from) % 10; ones > 0; ones -= 1) await page.keyboard.press("ArrowRight");
  await page.getByText(`Frame ${to}`, { exact: true }).waitFor();
  await expect.poll(() => shownPicture(page)).toBe(to);
}

describe("a slow-motion clip", { timeout: 60_000 }, () => {
  test("opens on this machine, and every key shows exactly the next picture or the one before", async () => {
    const buffer = await makeCountedClip(desk.page, PICTURES, FILE_HZ);
    const [chooser] = await Promise.all([desk.page.waitForEvent("filechooser"), desk.button("Choose a clip").click()]);
    await chooser.setFiles({ name: "clip.webm", mimeType: "video/webm", buffer });
    await expect.poll(() => shownPicture(desk.page)).toBe(0);
    // No click in between: the keys are the player's as soon as the clip is there.
    for (let picture = 1; picture <= 12; picture += 1) await stepTo(picture - 1, picture);
    for (let picture = 11; picture >= 0; picture -= 1) {
      await desk.page.keyboard.press("ArrowLeft");
      await expect.poll(() => shownPicture(desk.page)).toBe(picture);
    }
    await desk.page.keyboard.press("ArrowLeft");
    await desk.page.getByText("Frame 0", { exact: true }).waitFor();
    for (let tens = 0; tens < 20; tens += 1) await desk.page.keyboard.press("Shift+ArrowRight");
    await desk.page.getByText(`Frame ${PICTURES - 1}`, { exact: true }).waitFor();
    await expect.poll(() => shownPicture(desk.page)).toBe(PICTURES - 1);
    for (let tens = 0; tens < 20; tens += 1) await desk.page.keyboard.press("Shift+ArrowLeft");
    await desk.page.getByText("Frame 0", { exact: true }).waitFor();
  });

  test("closed form: marks by key give contact, flight, step rate and duty factor", async () => {
    let at = 0;
    for (const mark of MARKS) {
      await stepTo(at, mark.at);
      await desk.page.keyboard.press(mark.key);
      at = mark.at;
    }
    const fact = (name: string) =>
      desk.page
        .locator(".facts-row")
        .filter({ hasText: new RegExp(`^${name}`) })
        .locator("dd");
    // 48 and 32 of 240 a second; 80 of 240 a step; contact over two steps.
    await expect.poll(() => fact("Contact time").textContent()).toMatch(/^200 ±\d/);
    expect(await fact("Flight time").textContent()).toMatch(/^133 ±\d/);
    expect(await fact("Step rate").textContent()).toMatch(/^180\.0/);
    expect(await fact("Duty factor").textContent()).toMatch(/^30\.0/);
  });

  test("closed form: four points give the shank's angle and how far the foot is ahead of the hip", async () => {
    await desk.page.getByLabel(/^Shank length/).fill("40");
    const box = (await desk.page.locator(".clip-points").boundingBox())!;
    for (const { x, y } of POINTS)
      await desk.page.mouse.click(box.x + (x / CLIP.width) * box.width, box.y + (y / CLIP.height) * box.height);
    // atan(30 / 40); 40 pixels at 40 cm for 50.
    const fact = (name: string) => desk.page.locator(".facts-row").filter({ hasText: name }).locator("dd");
    await expect.poll(() => fact("Shank angle").textContent()).toBe("37°");
    expect(await fact("Foot ahead of hip").textContent()).toMatch(/^\+32\scm/);
    // The keys still are the player's after a click into the picture.
    await desk.page.keyboard.press("ArrowLeft");
    await desk.page.getByText("Frame 137", { exact: true }).waitFor();
  });

  test("the marks are kept with the runner; nothing of the clip was sent", async () => {
    await desk.button("Keep the marks").click();
    await desk.page.getByText("Kept.", { exact: true }).waitFor();
    const { items } = await desk.api<{ items: Record<string, unknown>[] }>(
      "GET",
      `/api/runners/${runnerId}/video-measures`,
    );
    expect(items).toHaveLength(1);
    expect(items[0]).toMatchObject({ frameRateHz: FILMED_HZ, contactFrames: [10, 90], toeOffFrames: [58, 138] });
    expect(items[0]?.["shankAngleRad"]).toBeCloseTo(Math.atan2(30, 40), 1);
    expect(items[0]?.["footAheadOfHipM"]).toBeCloseTo(0.32, 2);
    expect(sent).toHaveLength(1);
    expect(sent[0]).toMatchObject({ method: "PUT" });
    expect(sent[0]!.bytes).toBeLessThan(1000);
    await desk.page.reload();
    await desk.page.getByText(/Contact time 200 ms/).waitFor();
    noFaults();
  });
});
