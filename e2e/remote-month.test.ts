// A month of a runner whom the coach never sees: a link, a phone, and one decision a week at the desk. The weeks pass on a clock
// that the test sets, for the server and for both browsers.
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { type ClockedServer, startClockedServer } from "./support/clocked-server.ts";
import { type Desk, makeGroup, openDesk, pictureOfFailure, setUpDesk, TABLET } from "./support/desk.ts";
import { type PhoneRun, putRunOnPhone } from "./support/phone-run.ts";
import { makeDataDir, removeDataDir } from "./support/server.ts";

const WHO = "Ines Invented";
const OWN_SPM = 158;
const SPEED_MPS = 2.7;
/** A Monday, a week before the programme begins. */
const FIRST_DAY = "2031-03-03";

const day = (index: number): string => new Date(Date.parse(FIRST_DAY) + index * 86_400_000).toISOString().slice(0, 10);

interface Plan {
  readonly status: string;
  readonly stages: readonly { readonly startsOn: string; readonly endsOn: string; readonly stepRateSpm: number }[];
}

let browser: Browser;
let server: ClockedServer;
let desk: Desk;
let phoneContext: BrowserContext;
let phone: Page;
let runnerId = "";
let groupId = "";
let seed = 1;
let runsSent = 0;
const endings: (() => void)[] = [];
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser(["--autoplay-policy=no-user-gesture-required"]);
  server = await startClockedServer(dataDir, `${FIRST_DAY}T10:00:00Z`);
  desk = await openDesk(browser, TABLET);
  phoneContext = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: "en-GB", hasTouch: true });
  phone = await phoneContext.newPage();
  phone.setDefaultTimeout(15_000);
  endings.push(watchPage(desk.page, server.origin, /401/), watchPage(phone, server.origin));
  await at(0, "10:00");
  await setUpDesk(desk, server.setupUrl);
  const made = await makeGroup(desk, { name: "Far away (invented)", startsOn: day(7) }, [{ name: WHO, remote: true }]);
  groupId = made.groupId;
  runnerId = made.runnerIds.get(WHO)!;
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

afterEach(async (context) => {
  await pictureOfFailure(desk.page, context);
  await pictureOfFailure(phone, { task: { ...context.task, name: `phone ${context.task.name}` } });
});

/** It is this day and time (UTC) for everyone. */
async function at(dayIndex: number, time: string): Promise<void> {
  const now = `${day(dayIndex)}T${time}:00Z`;
  server.set(now);
  await desk.context.clock.setFixedTime(now);
  await phoneContext.clock.setFixedTime(now);
}

const onPhone = (name: string | RegExp) => phone.getByRole("button", { name }).first().tap();
const allSent = () => phone.getByRole("button", { name: /^All sent/ }).waitFor();

async function openPhone(): Promise<void> {
  await phone.reload();
  await phone.getByRole("button", { name: "Something hurts" }).waitFor();
}

async function countOnPhone(contacts: number): Promise<void> {
  await onPhone("Count a minute");
  await onPhone("I have a number already");
  await phone.getByLabel("Contacts in the minute").fill(String(contacts));
  await onPhone("That is it");
  await onPhone("Send to your coach");
  await allSent();
}

async function runOnPhone(dayIndex: number, run: Partial<PhoneRun>): Promise<void> {
  seed += 1;
  await at(dayIndex, "19:00");
  const startedAt = `${day(dayIndex)}T18:00:00Z`;
  await putRunOnPhone(phone, runnerId, {
    startedAt,
    minutes: 11,
    stepRateSpm: OWN_SPM,
    speedMps: SPEED_MPS,
    seed,
    ...run,
  });
  await openPhone();
  runsSent += 1;
  await expect.poll(async () => (await recordings()).length, { timeout: 15_000 }).toBe(runsSent);
}

const recordings = async (): Promise<readonly { readonly phase: string }[]> =>
  (await desk.api<{ items: { phase: string }[] }>("GET", `/api/runners/${runnerId}/recordings`)).items;

/** The evening's two taps, on the phone: how hard, and does anything hurt. */
async function sayHowItWent(dayIndex: number, pain: number, place?: string, sign?: string): Promise<void> {
  await at(dayIndex, "20:00");
  await openPhone();
  await onPhone("How it went");
  await phone.locator("fieldset.rating").nth(0).getByText("4", { exact: true }).tap();
  await phone.locator("fieldset.rating").nth(1).getByText(String(pain), { exact: true }).tap();
  if (place !== undefined) await phone.getByText(place, { exact: true }).tap();
  if (sign !== undefined) await phone.getByText(sign).tap();
  // At once, and not only when the coach looks.
  if (pain > 0)
    await phone
      .getByRole("alert")
      .getByText(sign === undefined ? /wait a day/ : /^Stop running for now/)
      .waitFor();
  await onPhone("Send to your coach");
  await onPhone(/^All sent|to send|Sending/);
  await phone.getByText("Nothing. Your coach's server has everything.").waitFor();
}

const plan = (): Promise<Plan> => desk.api<Plan>("GET", `/api/runners/${runnerId}/plan`);
const targetOn = async (dayIndex: number): Promise<number | undefined> =>
  (await plan()).stages.find((stage) => stage.startsOn <= day(dayIndex) && day(dayIndex) <= stage.endsOn)?.stepRateSpm;
const line = () => desk.page.getByRole("listitem").filter({ has: desk.page.getByRole("link", { name: WHO }) });

/** Sunday night at the desk: what is proposed, and agreeing to it. */
async function decide(dayIndex: number, proposed: string, rule: string): Promise<void> {
  await at(dayIndex, "21:00");
  await desk.page.goto(`${server.origin}/g/${groupId}/week`);
  await line().getByText(rule, { exact: true }).first().waitFor();
  await line()
    .getByRole("button", { name: `Confirm ${proposed} for ${WHO}` })
    .tap();
  await line().getByText("Confirmed").waitFor();
}

/** The phone shows what it kept first, then what the server says: that is waited for. */
async function phoneShows(dayIndex: number, targetSpm: number | undefined): Promise<void> {
  await at(dayIndex, "08:00");
  await openPhone();
  await expect.poll(async () => Number(await phone.locator(".aim-number").textContent())).toBe(targetSpm);
}

describe("a remote runner's month", { timeout: 120_000 }, () => {
  test("the coach makes a link; the phone opens it, agrees, counts and sends two runs", async () => {
    await desk.page.goto(`${server.origin}/g/${groupId}/runners/${runnerId}`);
    await desk.button("Runner’s link").tap();
    await desk.button("Make a link").tap();
    const address = await desk.page.getByRole("textbox", { name: "The runner’s link" }).inputValue();
    expect(address.startsWith(`${server.origin}/run/#`)).toBe(true);
    await phone.goto(address);
    await onPhone("I agree");
    await countOnPhone(OWN_SPM / 2);
    await countOnPhone(OWN_SPM / 2 + 1);
    await runOnPhone(2, {});
    await runOnPhone(4, { stepRateSpm: OWN_SPM + 1 });
    expect((await recordings()).map(({ phase }) => phase)).toEqual(["before", "before"]);
  });

  test("the coach accepts the proposal, and the phone shows the first stage", async () => {
    await at(6, "21:00");
    await desk.page.goto(`${server.origin}/g/${groupId}/runners/${runnerId}`);
    await desk.button("Accept").tap();
    await desk.page.getByText("Accepted. A plan is made.").waitFor();
    const first = (await plan()).stages[0]!;
    expect(first.startsOn).toBe(day(7));
    expect(first.stepRateSpm).toBeGreaterThan(OWN_SPM);
    await phoneShows(7, first.stepRateSpm);
  });

  test("[D8] first week: on the beat at the same speed, nothing hurts: move on", async () => {
    const beatSpm = await targetOn(7);
    await runOnPhone(8, { stepRateSpm: beatSpm!, beatSpm: beatSpm! });
    for (const evening of [8, 10, 12]) await sayHowItWent(evening, 0);
    await decide(13, "Move on", "D8");
    expect(await targetOn(14)).toBeGreaterThan(beatSpm!);
    await phoneShows(14, await targetOn(14));
  });

  test("[D5] second week: on the beat, but faster: stay", async () => {
    const beatSpm = await targetOn(14);
    await runOnPhone(15, { stepRateSpm: beatSpm!, beatSpm: beatSpm!, speedMps: 1.08 * SPEED_MPS });
    for (const evening of [15, 17, 19]) await sayHowItWent(evening, 0);
    await decide(20, "Stay", "D5");
    await phoneShows(21, beatSpm);
  });

  test("[D2] third week: the calf hurts: ease back, and the phone says so at once", async () => {
    const beatSpm = await targetOn(21);
    await runOnPhone(22, { stepRateSpm: beatSpm!, beatSpm: beatSpm! });
    await sayHowItWent(23, 4, "Calf");
    await decide(27, "Ease back", "D2");
    const eased = await targetOn(28);
    expect(eased).toBeLessThan(beatSpm!);
    expect(eased).toBeGreaterThanOrEqual(OWN_SPM);
    await phoneShows(28, eased);
  });

  test("[D1] fourth week: one spot of bone: stop and refer, and no beat any more", async () => {
    await sayHowItWent(29, 6, "Shin", "Pain on one spot of bone");
    await at(34, "21:00");
    await desk.page.goto(`${server.origin}/g/${groupId}/week`);
    await line().getByText("D1", { exact: true }).first().waitFor();
    // Never in bulk: there is nothing to confirm for all.
    expect(await desk.page.getByRole("button", { name: /^Confirm (it|all|the other)/ }).count()).toBe(0);
    await decide(34, "Stop and refer", "D1");
    expect((await plan()).status).toBe("stopped");
    await at(35, "08:00");
    await phone.reload();
    await phone.getByRole("heading", { name: "Stop for now" }).waitFor();
    expect(await phone.getByRole("button", { name: /Run it|Learn the beat/ }).count()).toBe(0);
    for (const ending of endings) ending();
  });
});
