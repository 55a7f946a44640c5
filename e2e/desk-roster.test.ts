// The list of runners as a coach keeps it, with names and notes that are out to do harm: everything anybody typed is text, on
// every screen, and no script runs but the desk's own.
import { readFileSync } from "node:fs";
import type { Browser } from "playwright-core";
import Papa from "papaparse";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { inventedGpx } from "../tests/invented-runs.ts";
import { launchBrowser, watchPage } from "./support/browser.ts";
import { type Desk, makeGroup, type MadeGroup, openDesk, pictureOfFailure, setUpDesk } from "./support/desk.ts";
import { makeDataDir, removeDataDir, type RunningServer, startServer } from "./support/server.ts";

const HARM = '<img src=x onerror="globalThis.harmed=1">';
const FORMULA = '=HYPERLINK("http://elsewhere.test","x")';
/** RFC 4180, section 2.7. */
const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const sheet = [
  "Who;height (cm);shoe size;remote;notes",
  "Bo Invented;181;44;;",
  `${quoted(`${HARM} Cy`)};175;41;;${quoted("<script>globalThis.harmed=1</script>")}`,
  "Di Invented;170;39;yes;",
  "di  invented;171;39;;",
  "Ada Invented;168;38;;",
  `${quoted(FORMULA)};172;40;;`,
  "El Invented;tall;40;;",
].join("\n");

let browser: Browser;
let server: RunningServer;
let desk: Desk;
let made: MadeGroup;
let noFaults: () => void;
const dataDir = makeDataDir();

beforeAll(async () => {
  browser = await launchBrowser();
  server = await startServer(dataDir);
  desk = await openDesk(browser);
  noFaults = watchPage(desk.page, server.origin, /401/);
  await setUpDesk(desk, server.signInUrl);
  const startsOn = new Date().toISOString().slice(0, 10);
  made = await makeGroup(desk, { name: `Roster (invented) ${HARM}`, startsOn }, [{ name: "Ada Invented" }]);
}, 90_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop();
  removeDataDir(dataDir);
});

afterEach((context) => pictureOfFailure(desk.page, context));

const place = (path: string): string => `${server.origin}/g/${made.groupId}${path}`;
const names = () => desk.page.locator("table.roster tbody th a").allTextContents();
const outcomeOf = (row: number) =>
  desk.page.getByRole("row").filter({ has: desk.page.getByRole("cell", { name: String(row), exact: true }) });

describe("the roster", { timeout: 90_000 }, () => {
  test("a spreadsheet is looked at first: columns are matched by hand, doubles and faults are told row by row", async () => {
    await desk.page.goto(place("/import"));
    const [chooser] = await Promise.all([desk.page.waitForEvent("filechooser"), desk.button("choose a file").click()]);
    await chooser.setFiles({ name: "runners.csv", mimeType: "text/csv", buffer: Buffer.from(sheet) });
    await desk.page.getByText(/Say which column holds the name/).waitFor();
    await desk.page.getByLabel("Who: Taken for").selectOption("Name");
    await outcomeOf(1).getByText("will be added").waitFor();
    expect(await desk.page.getByLabel("shoe size: Taken for").inputValue()).toBe("ignore");
    await outcomeOf(4).getByText("same as row 3, left out").waitFor();
    await outcomeOf(5).getByText("is here already, left out").waitFor();
    await outcomeOf(7).getByText(/tall/).waitFor();
    await desk.button("Add 4 runners").waitFor();
    // The second Di is another person: the coach knows.
    await outcomeOf(4).getByRole("button", { name: "Add it all the same" }).click();
    await desk.button("Add 5 runners").click();
    await desk.page.getByText("5 runners added.").waitFor();
    await expect.poll(async () => (await names()).length).toBe(6);
  });

  test("undo takes all of them out again; the same sheet brings them back", async () => {
    await desk.button("Undo").click();
    await desk.page.getByText("Undone.", { exact: true }).waitFor();
    await expect.poll(names).toEqual(["Ada Invented"]);
    await desk.page.goto(place("/import"));
    await desk.page.getByLabel("Or paste rows here").fill(sheet.replace("Who", "name"));
    await desk.button("Look at it").click();
    await desk.button("Add 4 runners").click();
    await expect.poll(async () => (await names()).length).toBe(5);
  });

  test("search, order and filter; several at once are marked, archived, brought back, each with an undo", async () => {
    await desk.page.getByLabel("Search").fill("di inv");
    await expect.poll(names).toEqual(["Di Invented"]);
    await desk.page.getByLabel("Search").fill("");
    await expect.poll(async () => (await names()).length).toBe(5);
    await desk.button(/^Name/).click();
    await expect.poll(async () => (await names()).at(-1)).toMatch(/^[=<]/);
    for (const name of ["Ada Invented", "Bo Invented"]) await desk.page.getByLabel(`Pick ${name}`).check();
    await desk.button("Mark as remote").click();
    await desk.page.getByText("2 changed.").waitFor();
    await desk.page.getByLabel("Show", { exact: true }).selectOption("Remote");
    await expect.poll(async () => (await names()).toSorted()).toEqual(["Ada Invented", "Bo Invented", "Di Invented"]);
    await desk.page.getByLabel("Pick all shown").check();
    await desk.button("Archive").click();
    await desk.page.getByText("3 archived.").waitFor();
    await desk.page.getByLabel("Show", { exact: true }).selectOption("Archived");
    await expect.poll(async () => (await names()).length).toBe(3);
    await desk.page.getByLabel("Pick Bo Invented").check();
    await desk.button("Bring back").click();
    await desk.page.getByText("1 brought back.").waitFor();
    await desk.button("Undo").click();
    await desk.page.getByText("Undone.", { exact: true }).waitFor();
    await expect.poll(async () => (await names()).length).toBe(3);
    await desk.page.getByLabel("Pick all shown").check();
    await desk.button("Bring back").click();
    await desk.page.getByText("3 brought back.").waitFor();
    await desk.page.getByLabel("Show", { exact: true }).selectOption("Everyone");
    await expect.poll(async () => (await names()).length).toBe(5);
  });

  test("the export holds everyone, and nothing that a spreadsheet would run", async () => {
    const [file] = await Promise.all([desk.page.waitForEvent("download"), desk.link("Export (CSV)").click()]);
    const text = readFileSync(await file.path(), "utf8").replace(/^\uFEFF/, "");
    const { data } = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
    expect(data.map((record) => record["name"] ?? "").toSorted()).toEqual(
      ["Ada Invented", "Bo Invented", `${HARM} Cy`, "Di Invented", `'${FORMULA}`].toSorted(),
    );
    expect(data.find((record) => record["name"] === "Bo Invented")).toMatchObject({
      "height (m)": "1.81",
      remote: "yes",
    });
    for (const cell of data.flatMap((record) => Object.values(record))) expect(cell).not.toMatch(/^[=+\-@]/);
  });
});

describe("what people type", { timeout: 90_000 }, () => {
  const who = `${HARM} Cy`;

  test("is text on every screen; no script runs but the desk's own, and none is written into a page", async () => {
    const roster = await desk.api<{ items: { runner: { id: string; name: string } }[] }>(
      "GET",
      `/api/groups/${made.groupId}/roster`,
    );
    const runnerId = roster.items.find(({ runner }) => runner.name === who)!.runner.id;
    const at = new Date().toISOString();
    const id = (): string => crypto.randomUUID();
    const of = `/api/runners/${runnerId}`;
    await desk.api("PUT", `${of}/pain/${id()}`, { score: 3, place: HARM, note: HARM, at });
    await desk.api("PUT", `${of}/form-notes/${id()}`, { at, when: "late", signs: ["posture"], note: HARM });
    for (const contacts of [79, 80])
      await desk.api("PUT", `${of}/counts/${id()}`, {
        way: "contacts-in-time",
        contacts,
        seconds: 60,
        feet: "one",
        lapLengthM: 400,
        lapTimeS: 150,
        measuredAt: at,
      });
    await desk.api("PUT", `${of}/proposal`, { targetSpm: 164, reason: HARM });
    await desk.page.goto(place(`/runners/${runnerId}`));
    await desk.page
      .locator('input[type="file"]')
      .first()
      .setInputFiles({
        name: "<img src=x onerror=harmed=1>.gpx",
        mimeType: "application/gpx+xml",
        buffer: Buffer.from(inventedGpx({ seed: 5, speedMps: 2.8, stepRateSpm: 160, minutes: 8 })),
      });
    await desk.page.getByText("<img src=x onerror=harmed=1>.gpx").first().waitFor();
    const found: Record<string, unknown> = {};
    const look = async (name: string): Promise<void> => {
      await desk.page.locator("h1").first().waitFor();
      await desk.page.waitForLoadState("networkidle");
      found[name] = await desk.page.evaluate(() => ({
        harmed: "harmed" in globalThis,
        images: document.querySelectorAll("img[src=x]").length,
        scripts: document.querySelectorAll("script:not([src]), [onerror], [onclick], [onload]").length,
        asText: document.body.textContent.includes("<img src=x"),
      }));
    };
    await look("runner");
    const { items } = await desk.api<{ items: { id: string }[] }>("GET", `${of}/recordings`);
    for (const [name, path] of Object.entries({
      recording: `/runners/${runnerId}/recordings/${items[0]!.id}`,
      print: `/runners/${runnerId}/print`,
      cards: `/runners/${runnerId}/cards`,
      clip: `/runners/${runnerId}/video`,
      roster: "/runners",
      week: "/week",
      evening: "/evening",
      handOuts: "/hand-outs",
      programme: "/programme",
      settings: "/settings",
    })) {
      await desk.page.goto(place(path));
      await look(name);
    }
    const clean = { harmed: false, images: 0, scripts: 0, asText: true };
    expect(found).toEqual(Object.fromEntries(Object.keys(found).map((name) => [name, clean])));
    noFaults();
  });

  test("even a script that got into a page would not run: the policy refuses it", async () => {
    const answer = await desk.page.goto(place("/runners"));
    const policy = answer?.headers()["content-security-policy"] ?? "";
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("style-src 'self'");
    expect(policy).not.toContain("unsafe");
    await desk.page.addScriptTag({ content: "globalThis.harmed = 1" }).catch(() => undefined);
    const harmed = await desk.page.evaluate(() => {
      const button = document.createElement("button");
      button.setAttribute("onclick", "globalThis.harmed = 2");
      document.body.append(button);
      button.click();
      return "harmed" in globalThis;
    });
    expect(harmed).toBe(false);
  });
});
