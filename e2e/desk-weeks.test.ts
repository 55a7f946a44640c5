// The invented group as a coach works through it: a week's triage on a laptop and on a tablet, the end of the programme, one
// person taken out wholly, and the group removed again.
import { readFileSync } from "node:fs";
import type { Browser } from "playwright-core";
import Papa from "papaparse";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { type Desk, LAPTOP, openDesk, pictureOfFailure, TABLET } from "./support/desk.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";
import { zipNames } from "./support/zip-names.ts";

let browser: Browser;
let server: RunningServer;
let storageState: Awaited<ReturnType<Desk["context"]["storageState"]>>;
let groupId = "";
let desk: Desk;
let noFaults: () => void;
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startServer(dataDir, { demo: true });
  const first = await openDesk(browser);
  await first.page.goto(server.signInUrl);
  await first.link(/\(invented\)/).waitFor();
  storageState = await first.context.storageState();
  groupId = (await first.api<{ items: { id: string }[] }>("GET", "/api/groups")).items[0]!.id;
  await first.context.close();
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

afterEach((context) => pictureOfFailure(desk.page, context));

async function openAt(path: string, options: typeof LAPTOP | typeof TABLET = LAPTOP): Promise<void> {
  desk = await openDesk(browser, { ...options, storageState });
  noFaults = watchPage(desk.page, server.origin);
  await desk.page.goto(server.origin + path);
  await desk.page.locator("h1").first().waitFor();
}

async function download(press: () => Promise<void>): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const [file] = await Promise.all([desk.page.waitForEvent("download"), press()]);
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
}

interface Change {
  readonly id: string;
  readonly what: string;
  readonly at: string;
  readonly undone: boolean;
}

describe.each([
  { name: "laptop", options: LAPTOP },
  { name: "tablet", options: TABLET },
])("a week's triage on a $name", { timeout: 60_000 }, ({ options }) => {
  const touch = options === TABLET;
  const began = new Date().toISOString();
  const lines = () => desk.page.locator("li.week-line");
  const names = () => desk.page.locator(".week-name").allTextContents();
  const lineOf = (who: string) => lines().filter({ has: desk.page.getByRole("link", { name: who }) });
  const press = async (name: string | RegExp): Promise<void> => {
    const button = desk.button(name);
    await (touch ? button.tap() : button.click());
  };
  const decided = () => desk.page.locator("li.week-decided").count();

  beforeAll(() => openAt(`/g/${groupId}/week`, options));

  afterAll(async () => {
    // For whoever comes next: the week as it was.
    const { items } = await desk.api<{ items: Change[] }>("GET", `/api/groups/${groupId}/changes?limit=20`);
    for (const change of items.filter((one) => one.what === "decisions confirmed" && !one.undone && one.at > began))
      await desk.api("POST", `/api/groups/${groupId}/changes/${change.id}/undo`);
    await desk.context.close();
  });

  test("pain is on top, in any order; who sent nothing is found in one press", async () => {
    await lines().first().waitFor();
    await expect.poll(async () => (await names()).slice(0, 2)).toEqual(["Bram Whitlock", "Noor Castellan"]);
    expect(await lineOf("Bram Whitlock").textContent()).toContain("Stop and refer");
    await desk.page.getByLabel("Order").selectOption("Name");
    await expect
      .poll(async () => {
        const sorted = await names();
        return (
          sorted.length > 9 && sorted.slice(2).every((name, index, rest) => index === 0 || rest[index - 1]! <= name)
        );
      })
      .toBe(true);
    expect((await names()).slice(0, 2)).toEqual(["Bram Whitlock", "Noor Castellan"]);
    await desk.page.getByLabel("Order").selectOption("Worst first");
    await desk.page.getByText("Sent nothing", { exact: true }).click();
    await expect.poll(names).not.toContain("Ilse Varga");
    expect(await names()).toContain("Sunniva Hale");
    await desk.page.getByText("Everyone", { exact: true }).click();
  });

  test("one is overruled with a reason, one confirmed, the others in one press, and all of that undone", async () => {
    await press("Change the decision for Desta Moreau");
    await desk.page.getByRole("radio", { name: /Ease back/ }).check();
    await desk.page.getByLabel("Reason").fill("She slept badly all week.");
    await press("Decide");
    await lineOf("Desta Moreau").getByText("Yours").waitFor();
    await lineOf("Desta Moreau").getByText("She slept badly all week.").waitFor();
    if (touch) await press(/^Confirm Ease back for Noor Castellan/);
    else {
      // By key: the line in focus.
      await lineOf("Noor Castellan").getByRole("link").first().focus();
      await desk.page.keyboard.press("c");
    }
    await lineOf("Noor Castellan").getByText("Confirmed").waitFor();
    await expect.poll(decided).toBe(2);
    await press(/^Confirm the other \d+$/);
    await desk.page.getByText(/\d+ decisions confirmed\./).waitFor();
    await expect.poll(decided).toBeGreaterThan(5);
    // Stop-and-refer never goes with the others.
    await desk.button(/^Confirm Stop and refer for Bram Whitlock/).waitFor();
    await press("Undo");
    await desk.page.getByText("Undone.", { exact: true }).waitFor();
    await expect.poll(decided).toBe(2);
  });

  test("[D10] overruling a stop needs a reason; confirmed by itself, everyone is decided", async () => {
    await press(/^Confirm the other \d+$/);
    await desk.page.getByText("Stop-and-refer is left: confirm each by itself.").waitFor();
    expect(await desk.page.getByText("Everyone is decided.").count()).toBe(0);
    await press("Change the decision for Bram Whitlock");
    await desk.page.getByRole("radio", { name: /Stay/ }).check();
    await expect.poll(() => desk.button("Decide").isDisabled()).toBe(true);
    await press("Cancel");
    await press(/^Confirm Stop and refer for Bram Whitlock/);
    await desk.page.getByText("Everyone is decided.").waitFor();
    noFaults();
  });
});

describe("the end of the programme", { timeout: 60_000 }, () => {
  beforeAll(() => openAt(`/g/${groupId}/programme`));
  afterAll(() => desk.context.close());

  const rows = () => desk.page.locator("table.results tbody tr");

  test("who changed, by how much, how sure, and how often they came: the picture, the table and the data agree", async () => {
    await rows().first().waitFor();
    const csv = await download(() => desk.link("Data (CSV)").click());
    const { data } = Papa.parse<Record<string, string>>(csv.bytes.toString("utf8").replace(/^\uFEFF/, ""), {
      header: true,
      skipEmptyLines: true,
    });
    await expect.poll(() => rows().count()).toBe(data.length);
    for (const record of data) {
      const row = rows().filter({ has: desk.page.getByRole("link", { name: record["name"]! }) });
      const cells = await row.locator("td").allTextContents();
      if (record["change at same speed (spm)"] === "") expect(cells[1]).toContain("not enough yet");
      else {
        expect(Math.abs(parseSigned(cells[1]!) - Number(record["change at same speed (spm)"]))).toBeLessThanOrEqual(
          0.5,
        );
        expect(await row.locator("svg").count()).toBe(1);
      }
      const planned = Number(record["sessions planned so far"]);
      expect(cells.at(-2)).toBe(planned === 0 ? "0" : `${record["sessions done"]} of ${planned}`);
      expect(cells.at(-1)).toBe(record["evenings attended"]);
    }
    await desk.page.locator(".results-group svg").waitFor();
    const changed = data.find((record) => record["name"] === "Ilse Varga")!;
    expect(Number(changed["low 95 %"])).toBeGreaterThan(0);
  });

  test("prints on few pages, without what is only for pressing", async () => {
    await desk.page.emulateMedia({ media: "print" });
    await expect.poll(() => desk.button("Print").isVisible()).toBe(false);
    expect(await desk.page.getByRole("navigation").first().isVisible()).toBe(false);
    const pages = (pdf: Buffer): number => pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    const sheet = pages(await desk.page.pdf({ format: "A4" }));
    expect(sheet).toBeGreaterThanOrEqual(1);
    expect(sheet).toBeLessThanOrEqual(2);
    await desk.page.emulateMedia({ media: "screen" });
    await rows().getByRole("link", { name: "Ilse Varga" }).click();
    await desk.link("Page to print").click();
    await desk.page.getByRole("heading", { name: "Ilse Varga: your running cadence" }).waitFor();
    await desk.page.waitForLoadState("networkidle");
    expect(pages(await desk.page.pdf({ format: "A4" }))).toBeLessThanOrEqual(2);
    noFaults();
  });
});

describe("one person, and the whole group, can be taken out", { timeout: 90_000 }, () => {
  beforeAll(() => openAt(`/g/${groupId}/runners`));
  afterAll(() => desk.context.close());

  test("everything of one person comes as one file, then goes wholly; the others stay", async () => {
    await desk.link("Oskar Pell").click();
    await desk.page.getByRole("heading", { name: "Oskar Pell" }).waitFor();
    const runnerId = desk.page.url().split("/").at(-1)!;
    const { items } = await desk.api<{ items: { fileName: string }[] }>("GET", `/api/runners/${runnerId}/recordings`);
    await desk.button("More for this runner").click();
    const zip = await download(() => desk.page.getByRole("menuitem", { name: "Export everything (ZIP)" }).click());
    const inside = zipNames(zip.bytes);
    expect(items.length).toBeGreaterThan(2);
    for (const { fileName } of items)
      expect(inside.some((name) => name.includes(fileName.replace(".gpx", "")))).toBe(true);
    await desk.button("More for this runner").click();
    await desk.page.getByRole("menuitem", { name: "Delete this person" }).click();
    const dialog = desk.page.getByRole("dialog");
    await dialog.getByLabel(/Type “Oskar Pell”/).fill("Oskar");
    await expect.poll(() => dialog.getByRole("button", { name: "Delete this person" }).isDisabled()).toBe(true);
    await dialog.getByLabel(/Type “Oskar Pell”/).fill("Oskar Pell");
    await dialog.getByRole("button", { name: "Delete this person" }).click();
    await desk.page.getByText("Everything about Oskar Pell is deleted.").waitFor();
    await desk.link("Ilse Varga").waitFor();
    await expect.poll(() => desk.link("Oskar Pell").count()).toBe(0);
    await expect(desk.api("GET", `/api/runners/${runnerId}`)).rejects.toThrow("404");
    noFaults = (): void => undefined;
  });

  test("the invented group goes in one press, and comes back in one", async () => {
    await desk.page.goto(server.origin);
    await desk.button("Remove the invented group").click();
    await desk.page.getByText("The invented group is gone.").waitFor();
    await desk.page.getByRole("heading", { name: "No group yet" }).waitFor();
    await desk.button("Undo").click();
    await desk.page.getByText("The invented group is back, as it was at first.").waitFor({ timeout: 40_000 });
    await desk.link(/\(invented\)/).click();
    await desk.page.locator("li.week-line").first().waitFor();
    expect(await desk.page.locator(".week-name").allTextContents()).toContain("Oskar Pell");
  });
});

/** "+6.1 (2 to 9)" and "−0.4 (…)": the first number. */
function parseSigned(text: string): number {
  return Number.parseFloat(text.trim().replace("−", "-").replace("+", ""));
}
