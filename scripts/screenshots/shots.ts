// What is photographed: every screen of the desk, and the states that a screen is seldom in when somebody looks.
import { randomUUID } from "node:crypto";
import type { Page } from "playwright-core";

export interface Shot {
  readonly name: string;
  readonly path: string;
  /** Something to do before the picture. */
  readonly prepare?: (page: Page) => Promise<void>;
  /** Only what fits the window: for dialogs and whatever stands still while the page scrolls. */
  readonly windowOnly?: boolean;
  /** As it comes out of the printer. */
  readonly print?: boolean;
  /** Nobody is signed in. */
  readonly signedOut?: boolean;
  /** The network is gone afterwards, so the picture gets a browser of its own. */
  readonly ownContext?: boolean;
}

export interface Places {
  /** The invented group, and an empty one. */
  readonly groupId: string;
  readonly emptyId: string;
  /** By what was found: a runner who changed, who waits for a decision, who only ran faster, who has no baseline. */
  readonly changedId: string;
  readonly waitingId: string;
  readonly fasterId: string;
  readonly unmeasuredId: string;
  readonly recordingId: string;
}

const button =
  (name: string | RegExp) =>
  (page: Page): Promise<void> =>
    page
      .getByRole("button", { name, exact: typeof name === "string" })
      .first()
      .click();

/** Opens every fold on the page. */
const unfold = async (page: Page): Promise<void> => {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll("details")) fold.open = true;
  });
};

async function typeCounts(page: Page): Promise<void> {
  const fields = page.locator("input[data-count]");
  for (const [i, text] of ["82", "170", "999", "84", "8x", "83"].entries()) {
    await fields.nth(i).fill(text);
    await fields.nth(i).press("Enter");
  }
}

async function lookAtSpreadsheet(page: Page): Promise<void> {
  await page
    .getByLabel(/paste rows/)
    .fill(
      "Name,Height (cm),Weight,Shoe\nAda Invented,170,61,4\nBo Invented,182,79,9\nBo Invented,182,79,9\n,160,50,2\n",
    );
  await button("Look at it")(page);
}

export function deskShots(places: Places): readonly Shot[] {
  const group = `/g/${places.groupId}`;
  const empty = `/g/${places.emptyId}`;
  const runner = (id: string): string => `${group}/runners/${id}`;
  const one = runner(places.changedId);
  return [
    { name: "groups", path: "/" },
    { name: "new-group", path: "/", prepare: button("New group"), windowOnly: true },
    { name: "week", path: `${group}/week` },
    { name: "week-why", path: `${group}/week`, prepare: button(/^Why: /) },
    { name: "week-change", path: `${group}/week`, prepare: button(/^Change the decision/), windowOnly: true },
    { name: "runners", path: `${group}/runners` },
    {
      name: "runners-picked",
      path: `${group}/runners`,
      prepare: async (page) => {
        for (const i of [1, 2, 3]) await page.locator("table input[type=checkbox]").nth(i).click();
      },
      windowOnly: true,
    },
    { name: "add-runner", path: `${group}/runners`, prepare: button("Add a runner"), windowOnly: true },
    { name: "runner", path: one },
    { name: "runner-unfolded", path: one, prepare: unfold },
    { name: "runner-waiting", path: runner(places.waitingId) },
    { name: "runner-faster", path: runner(places.fasterId) },
    { name: "runner-unmeasured", path: runner(places.unmeasuredId) },
    { name: "runner-help", path: one, prepare: (page) => page.locator(".help-mark").first().click(), windowOnly: true },
    { name: "runner-link", path: one, prepare: button("Runner’s link"), windowOnly: true },
    {
      name: "stage",
      path: runner(places.fasterId),
      prepare: async (page) => {
        await unfold(page);
        await button(/^Change the target of stage/)(page);
      },
      windowOnly: true,
    },
    { name: "session", path: one, prepare: button(/^Change the session of/), windowOnly: true },
    { name: "calendar", path: one, prepare: button("Change the calendar"), windowOnly: true },
    { name: "own-proposal", path: runner(places.waitingId), prepare: button("Change it"), windowOnly: true },
    { name: "recording", path: `${one}/recordings/${places.recordingId}` },
    { name: "slow-motion", path: `${one}/video` },
    { name: "runner-print", path: `${one}/print`, print: true },
    { name: "cards-print", path: `${one}/cards`, print: true },
    { name: "evening-print", path: `${group}/print`, print: true },
    { name: "programme-print", path: `${group}/programme`, print: true },
    { name: "evening", path: `${group}/evening` },
    {
      name: "evening-counting",
      path: `${group}/evening`,
      prepare: async (page) => {
        await button("Start")(page);
        await page.waitForTimeout(4500);
      },
      windowOnly: true,
    },
    { name: "evening-typed", path: `${group}/evening`, prepare: typeCounts },
    { name: "attendance", path: `${group}/evening?part=attendance` },
    { name: "lanes", path: `${group}/evening?part=lanes` },
    {
      name: "offline",
      path: `${group}/evening`,
      prepare: async (page) => {
        await page.context().setOffline(true);
        await typeCounts(page);
      },
      ownContext: true,
    },
    { name: "practice", path: `${group}/practice` },
    { name: "hand-outs", path: `${group}/hand-outs` },
    { name: "mail-server", path: `${group}/hand-outs`, prepare: button("Set up mail"), windowOnly: true },
    { name: "programme", path: `${group}/programme` },
    { name: "settings", path: `${group}/settings`, prepare: unfold },
    { name: "import", path: `${group}/import`, prepare: lookAtSpreadsheet },
    { name: "account", path: "/account" },
    { name: "keyboard", path: `${group}/week`, prepare: (page) => page.keyboard.press("?"), windowOnly: true },
    { name: "help", path: "/help" },
    { name: "sign-in", path: "/sign-in", signedOut: true },
    { name: "not-found", path: runner(randomUUID()) },
    ...["week", "evening", "runners", "programme", "hand-outs"].map((screen) => ({
      name: `empty-${screen}`,
      path: `${empty}/${screen}`,
    })),
  ];
}
