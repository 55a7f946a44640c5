// The first evening as a coach works it, on a laptop and with thumbs on a tablet: thirty counts, one of them wrong, the network
// gone in the middle. What the server holds in the end is what was typed: nothing lost, nothing doubled.
import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import {
  type Desk,
  LAPTOP,
  makeGroup,
  type MadeGroup,
  openDesk,
  pictureOfFailure,
  setUpDesk,
  TABLET,
} from "./support/desk.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const RUNNERS = 30;
const LIMIT_S = 120;
/** A hand that is used to it: reading one line of the sheet, one key, one press. Common practice, no source. */
const PACE = { lookS: 1.2, keyS: 0.3, pressS: 1.5 };
/** The network goes after this many. */
const ONLINE = 12;

let browser: Browser;
let server: RunningServer;
let storageState: Awaited<ReturnType<Desk["context"]["storageState"]>>;
const groups = new Map<string, MadeGroup>();
const dataDir = makeDataDir();
const names = Array.from({ length: RUNNERS }, (_, index) => `Invented ${String(index + 1).padStart(2, "0")}`);
/** Contacts of one foot in a minute; the seventh counted both feet, the ninth's first number lost a digit. */
const typed = names.map((_, index) => (index === 6 ? 158 : 76 + (index % 9)));

const looks = [
  { name: "laptop", options: LAPTOP },
  { name: "tablet", options: TABLET },
] as const;

beforeAll(async () => {
  browser = await launchBrowser(["--autoplay-policy=no-user-gesture-required"]);
  server = await startServer(dataDir);
  const first = await openDesk(browser);
  await setUpDesk(first, server.signInUrl);
  const startsOn = new Date().toISOString().slice(0, 10);
  for (const { name } of looks) {
    const group = { name: `Evening, ${name} (invented)`, startsOn };
    groups.set(
      name,
      await makeGroup(
        first,
        group,
        names.map((one) => ({ name: one })),
      ),
    );
  }
  storageState = { ...(await first.context.storageState()), origins: [] };
  await first.context.close();
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

describe.each(looks)("the first evening on a $name", ({ name, options }) => {
  let desk: Desk;
  let made: MadeGroup;
  let noFaults: () => void;
  const spent = { lines: 0, keys: 0, presses: 0 };
  const count = (who: string) => desk.page.getByLabel(`Count of ${who}`, { exact: true });
  const press = async (what: string): Promise<void> => {
    spent.presses += 1;
    const button = desk.button(what);
    await (options === TABLET ? button.tap() : button.click());
  };
  /** Types into whatever has the focus, as a hand does. */
  const type = async (text: string): Promise<void> => {
    spent.lines += 1;
    for (const key of [...text.split(""), "Enter"]) {
      spent.keys += 1;
      await desk.page.keyboard.press(key);
    }
  };
  interface Kept {
    readonly items: readonly { readonly contacts: number; readonly feet: string }[];
  }
  const kept = async (who: string): Promise<Kept["items"]> =>
    (await desk.api<Kept>("GET", `/api/runners/${made.runnerIds.get(who)}/counts`)).items;

  beforeAll(async () => {
    made = groups.get(name)!;
    desk = await openDesk(browser, { ...options, storageState });
    noFaults = watchPage(desk.page, server.origin, /ERR_INTERNET_DISCONNECTED|ERR_FAILED/);
    // Once, and the network may go: a first visit is enough.
    await desk.page.goto(server.origin);
  }, 60_000);

  afterAll(() => desk.context.close());
  afterEach((context) => pictureOfFailure(desk.page, context));

  test("twelve counts go in; both feet and a lost digit are asked about, and answered", async () => {
    await desk.link(new RegExp(`Evening, ${name}`)).click();
    await desk.link("Evening").click();
    await count(names[0]!).click();
    for (const [index, value] of typed.slice(0, ONLINE).entries()) {
      if (index === 8) {
        await type("8");
        await desk.page.getByText("Check the count and the time for a slip.").waitFor();
        await count(names[8]!).click();
        await desk.page.keyboard.press("Control+a");
        spent.presses += 1;
      }
      await type(String(value));
      if (index === 6) {
        await desk.page.getByText(/158 .*looks like both feet/).waitFor();
        await press("It was both feet");
        // The focus stands in the next empty field, ready to go on.
        expect(await count(names[7]!).evaluate((field) => field === document.activeElement)).toBe(true);
      }
    }
    await desk.page.getByText(`${ONLINE} of ${RUNNERS} counted`).waitFor();
    await expect.poll(() => desk.page.getByText("sent", { exact: true }).count()).toBe(ONLINE);
  });

  test("the network goes; answers get lost on the way back; the rest is typed all the same", async () => {
    // The server stored these, but nobody heard: they must not be there twice.
    await desk.page.route(/\/counts\//, async (route) => {
      await route.fetch();
      await route.abort("failed").catch(() => undefined);
    });
    for (const value of typed.slice(ONLINE, ONLINE + 2)) await type(String(value));
    await desk.page.getByText("2 to send").waitFor();
    await desk.context.setOffline(true);
    await desk.page.unroute(/\/counts\//);
    await desk.page
      .getByText(/offline/)
      .first()
      .waitFor();
    for (const value of typed.slice(ONLINE + 2, -1)) await type(String(value));
    await desk.page.getByText(`${RUNNERS - 1} of ${RUNNERS} counted`).waitFor();
    // The last one is typed without leaving its field: the browser is closed over it.
    spent.keys += 2;
    await desk.page.keyboard.type(String(typed.at(-1)));
    await desk.page.getByText(`${RUNNERS} of ${RUNNERS} counted`).waitFor();
    const spentS = spent.lines * PACE.lookS + spent.keys * PACE.keyS + spent.presses * PACE.pressS;
    expect(spentS, JSON.stringify(spent)).toBeLessThan(LIMIT_S);
  });

  test("a reload without a network opens the evening with everything typed", async () => {
    // Nothing may depend on the browser's own cache, which may be emptied at any time.
    const devTools = await desk.context.newCDPSession(desk.page);
    await devTools.send("Network.clearBrowserCache");
    await desk.page.reload();
    await desk.page.getByText(`${RUNNERS} of ${RUNNERS} counted`).waitFor();
    expect(await count(names[29]!).inputValue()).toBe(String(typed[29]));
    await desk.page.getByText(`${RUNNERS - ONLINE} to send`).waitFor();
  });

  test("with the network back everyone's count is on the server, once", async () => {
    await desk.context.setOffline(false);
    await expect.poll(() => desk.page.getByText("sent", { exact: true }).count(), { timeout: 20_000 }).toBe(RUNNERS);
    await expect.poll(() => desk.page.getByText(/to send/).count()).toBe(0);
    const found: unknown[] = [];
    for (const who of names) found.push((await kept(who)).map(({ contacts, feet }) => ({ contacts, feet })));
    expect(found).toEqual(typed.map((contacts, index) => [{ contacts, feet: index === 6 ? "both" : "one" }]));
    noFaults();
  });
});
