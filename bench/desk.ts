// How quick the coach's desk is in Chromium: a group of 60 with 600 recordings, every interaction a coach makes, a recording of
// three hours, and how much script each screen needs. Reports, never asserts. With --write the table goes into docs/desk.md;
// with --data FOLDER the group is made once and stays there; --only views|interactions|traces|scripts looks at one thing.
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { gzipSync } from "node:zlib";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { launchBrowser } from "../e2e/support/browser.ts";
import { makeDataDir, removeDataDir, startServer } from "../e2e/support/server.ts";
import { type BenchGroup, type Call, filledGroup, RECORDINGS, RUNNERS } from "./desk/fill.ts";
import { framesWhile, interact, type Interaction, shownAfterMs, watchSpeed } from "./desk/watch.ts";

const VISITS = 5;
const TIMES = 5;
const GESTURE_MS = 4000;
const docs = path.resolve(import.meta.dirname, "../docs/desk.md");

const { values: wish } = parseArgs({
  options: { write: { type: "boolean" }, data: { type: "string" }, only: { type: "string" } },
});
const dataDir = wish.data ?? makeDataDir();
const server = await startServer(dataDir);
const browser = await launchBrowser();
const lines: string[] = [];
const say = (line: string): void => {
  lines.push(line);
  process.stdout.write(`${line}\n`);
};
try {
  const { call, cookie, group } = await filledGroup(server.signInUrl, wish.data);
  await rested(call, group);
  const open = (more: object = {}): Promise<BrowserContext> => signedIn(browser, cookie, more);
  const reports = {
    views: reportViews,
    interactions: reportInteractions,
    traces: reportTraces,
    scripts: reportScripts,
  };
  for (const [name, report] of Object.entries(reports))
    if (wish.only === undefined || wish.only === name) await report(open, group);
} finally {
  await browser.close();
  await server.stop();
  if (wish.data === undefined) removeDataDir(dataDir);
}
if (wish.write === true) {
  const [begin, end] = ["<!-- bench/desk.ts writes from here -->", "<!-- to here -->"];
  const text = readFileSync(docs, "utf8");
  const [head, rest] = text.split(begin);
  const tail = rest?.split(end)[1];
  if (head === undefined || tail === undefined) throw new Error(`docs/desk.md has no "${begin}" … "${end}"`);
  writeFileSync(docs, `${head}${begin}\n\n${lines.join("\n").trim()}\n\n${end}${tail}`);
}

/** Until the background has reckoned everything, so that no measurement shares the machine with it. */
async function rested(call: Call, group: BenchGroup): Promise<void> {
  for (let look = 0; look < 60; look += 1) {
    const started = performance.now();
    await call("GET", `/api/groups/${group.groupId}/roster?limit=500`);
    await call("GET", `/api/groups/${group.groupId}/week?limit=500`);
    if (performance.now() - started < 400) return;
    await new Promise((resolve) => setTimeout(resolve, 1000));
  }
}

async function signedIn(browser: Browser, cookie: string, more: object): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...more });
  const [name = "", value = ""] = cookie.split("=");
  await context.addCookies([{ name, value, url: server.origin }]);
  await watchSpeed(context);
  return context;
}

type Open = (more?: object) => Promise<BrowserContext>;

async function reportViews(open: Open, group: BenchGroup): Promise<void> {
  const screens = [
    ["Runners", "/runners", "table.roster tbody tr", RUNNERS],
    ["This week", "/week", "li.week-line", RUNNERS],
    ["Evening", "/evening", "input[data-count]", RUNNERS - RUNNERS / 6],
    ["One runner, with the picture", `/runners/${group.runnerId}`, ".say strong, figure svg", 1],
    ["Programme", "/programme", "table.results tbody tr", RUNNERS],
  ] as const;
  say(`First view, ${RUNNERS} runners and ${RECORDINGS} recordings, s from the navigation (bar: 1.0):`);
  say("");
  say("| screen | first visit, median | worst | again, median |");
  say("| --- | --- | --- | --- |");
  for (const [name, at, selector, count] of screens) {
    const [first, again]: [number[], number[]] = [[], []];
    for (let visit = 0; visit < VISITS; visit += 1) {
      const context = await open();
      const page = await context.newPage();
      const address = `${server.origin}/g/${group.groupId}${at}`;
      first.push(await shownAfterMs(page, address, selector, count));
      await page.waitForTimeout(600);
      again.push(await shownAfterMs(page, address, selector, count));
      await context.close();
    }
    say(`| ${name} | ${seconds(median(first))} | ${seconds(Math.max(...first))} | ${seconds(median(again))} |`);
  }
  say("");
}

async function reportInteractions(open: Open, group: BenchGroup): Promise<void> {
  const context = await open();
  const page = await context.newPage();
  const at = (place: string) => page.goto(`${server.origin}/g/${group.groupId}${place}`, { waitUntil: "networkidle" });
  const firstName = (): string => document.querySelector("table.roster tbody th a")?.textContent ?? "";
  say(
    "Interactions, ms, median (worst) of five; input: until the next paint by the Event Timing API (tells from 16 ms on); result: until what was asked for is painted, the server's answer included (bar: 100):",
  );
  say("");
  say("| what | input | result | longest task |");
  say("| --- | --- | --- | --- |");
  const report = (name: string, all: readonly Interaction[]): void => {
    const cell = (values: readonly number[]): string =>
      `${Math.round(median(values))} (${Math.round(Math.max(...values))})`;
    const longest = Math.max(...all.map((one) => one.longTaskMs));
    say(
      `| ${name} | ${cell(all.map((one) => one.inputMs))} | ${cell(all.map((one) => one.resultMs))} | ${longest === 0 ? "none over 50" : Math.round(longest)} |`,
    );
  };
  const repeat = async (name: string, once: (time: number) => Promise<Interaction>): Promise<void> => {
    const all: Interaction[] = [];
    for (let time = 0; time < TIMES; time += 1) all.push(await once(time));
    report(name, all);
  };

  await at("/runners");
  await page
    .locator("table.roster tbody tr")
    .nth(RUNNERS - 1)
    .waitFor();
  await repeat("sort the roster", async (time) => {
    const before = await page.evaluate(firstName);
    await page.evaluate((name) => Object.assign(globalThis, { before: name }), before);
    const header = page.getByRole("button", { name: time % 2 === 0 ? /^Baseline/ : /^Runner|^Name/ }).first();
    return interact(
      page,
      () => header.click(),
      () =>
        document.querySelector("table.roster tbody th a")?.textContent !==
        (globalThis as unknown as { before: string }).before,
    );
  });
  await repeat("filter the roster", (time) =>
    interact(
      page,
      async () => {
        await page.getByLabel("Show", { exact: true }).selectOption(time % 2 === 0 ? "remote" : "everyone");
      },
      time % 2 === 0
        ? () => document.querySelectorAll("table.roster tbody tr").length === 10
        : () => document.querySelectorAll("table.roster tbody tr").length === 60,
    ),
  );
  await page.getByLabel("Show", { exact: true }).selectOption("everyone");
  await repeat("search the roster, one letter", async () => {
    const box = page.getByLabel("Search", { exact: true });
    await box.fill("Invented 4");
    await page.waitForTimeout(600);
    await box.focus();
    const found = await interact(
      page,
      () => page.keyboard.press("2"),
      () => document.querySelectorAll("table.roster tbody tr").length === 1,
    );
    await box.fill("");
    await page.waitForTimeout(300);
    return found;
  });
  await repeat("open a runner", async () => {
    await at("/runners");
    const found = await interact(
      page,
      () => page.getByRole("link", { name: "Invented 07" }).click(),
      () => document.querySelector("h1")?.textContent === "Invented 07" && document.querySelector(".say") !== null,
    );
    return found;
  });
  await repeat("the week in another order", async (time) => {
    if (time === 0) await at("/week");
    return interact(
      page,
      async () => {
        await page.getByLabel("Order").selectOption(time % 2 === 0 ? "name" : "urgency");
      },
      () => document.querySelectorAll("li.week-line").length === 60,
    );
  });
  await repeat("confirm a decision", async (time) => {
    await page.evaluate((done) => Object.assign(globalThis, { decided: done }), time);
    return interact(
      page,
      () =>
        page
          .getByRole("button", { name: /^Confirm .* for / })
          .first()
          .click(),
      () =>
        document.querySelectorAll("li.week-decided").length > (globalThis as unknown as { decided: number }).decided,
    );
  });
  await at("/evening");
  const fields = page.locator("input[data-count]");
  await repeat("type a count's last digit", async (time) => {
    await fields.nth(time).focus();
    await page.keyboard.press("8");
    await page.evaluate((index) => Object.assign(globalThis, { index }), time);
    return interact(
      page,
      () => page.keyboard.press("1"),
      () => {
        const { index } = globalThis as unknown as { index: number };
        return document.querySelectorAll(".entry-note")[index]?.textContent.includes("162") === true;
      },
    );
  });
  await context.close();
  say("");
}

async function reportTraces(open: Open, group: BenchGroup): Promise<void> {
  const context = await open();
  const page = await context.newPage();
  const address = `${server.origin}/g/${group.groupId}/runners/${group.runnerId}/recordings/${group.longRecordingId}`;
  const opened = await shownAfterMs(page, address, ".traces canvas", 1);
  await page.waitForLoadState("networkidle");
  await page.locator(".traces").scrollIntoViewIfNeeded();
  const box = await page.locator(".traces .u-over").first().boundingBox();
  if (!box) throw new Error("no trace to move about in");
  const plots = await page.locator(".traces canvas").count();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  let turn = 0;
  const zooming = await framesWhile(page, () => wheel(page, 0, (turn += 1) % 120 < 60 ? -25 : 25, true), GESTURE_MS);
  await wheel(page, 0, -600, true);
  const panning = await framesWhile(page, () => wheel(page, (turn += 1) % 120 < 60 ? 20 : -20, 0), GESTURE_MS);
  const idle = await framesWhile(page, () => page.waitForTimeout(50), 1500);
  say(
    `Three hours at a sample a second, ${plots} traces (bar: 50 frames a second; this Chromium draws ${idle.perSecond.toFixed(0)} with nothing to do):`,
  );
  say("");
  say("| gesture | frames a second | 95 % of gaps below, ms |");
  say("| --- | --- | --- |");
  say(`| closer and further | ${zooming.perSecond.toFixed(0)} | ${zooming.gap95Ms.toFixed(0)} |`);
  say(`| moving along | ${panning.perSecond.toFixed(0)} | ${panning.gap95Ms.toFixed(0)} |`);
  say("");
  say(`The recording is on the screen ${seconds(opened)} s after its address was opened.`);
  say("");
  await context.close();
}

async function wheel(page: Page, deltaX: number, deltaY: number, control = false): Promise<void> {
  if (control) await page.keyboard.down("Control");
  await page.mouse.wheel(deltaX, deltaY);
  if (control) await page.keyboard.up("Control");
}

async function reportScripts(open: Open, group: BenchGroup): Promise<void> {
  const runner = `/g/${group.groupId}/runners/${group.runnerId}`;
  const screens = [
    ["groups", "/", "table tbody tr"],
    ["evening", `/g/${group.groupId}/evening`, "input[data-count]"],
    ["this week", `/g/${group.groupId}/week`, "li.week-line"],
    ["runners", `/g/${group.groupId}/runners`, "table.roster tbody tr"],
    ["a runner", runner, ".say strong, figure svg"],
    ["a recording", `${runner}/recordings/${group.longRecordingId}`, "dl.facts"],
    ["slow motion", `${runner}/video`, "h1"],
    ["hand-outs", `/g/${group.groupId}/hand-outs`, "h1"],
    ["programme", `/g/${group.groupId}/programme`, "table.results tbody tr"],
    ["settings", `/g/${group.groupId}/settings`, "h1"],
  ] as const;
  say("Script until the first view, kB (bar: 180 gzip), and all that is fetched once the screen is complete:");
  say("");
  say("| opened directly | first view, gzip | as sent (Brotli) | complete, gzip |");
  say("| --- | --- | --- | --- |");
  for (const [name, at, selector] of screens) {
    // Without the keeper of the app, which fetches an evening's parts ahead of time.
    const context = await open({ serviceWorkers: "block" });
    const page = await context.newPage();
    const scripts: Promise<readonly [number, number]>[] = [];
    page.on("response", (response) => {
      if (response.request().resourceType() !== "script") return;
      scripts.push(
        (async () => [gzipSync(await response.body()).length, (await response.request().sizes()).responseBodySize])(),
      );
    });
    await shownAfterMs(page, server.origin + at, selector, 1);
    const first = [...scripts];
    await page.waitForLoadState("networkidle");
    const [early, all] = [await Promise.all(first), await Promise.all(scripts)];
    const sum = (of: readonly (readonly [number, number])[], index: 0 | 1): string =>
      (of.reduce((total, one) => total + one[index], 0) / 1000).toFixed(0);
    say(`| ${name} | ${sum(early, 0)} | ${sum(early, 1)} | ${sum(all, 0)} |`);
    await context.close();
  }
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function seconds(ms: number): string {
  return (ms / 1000).toFixed(2);
}
