// A coach at the desk in a real browser: signed in, with a group, and a way to ask the server what it holds.
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";

export const LAPTOP = { viewport: { width: 1280, height: 800 } } as const;
/** Upright, with thumbs. */
export const TABLET = { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true } as const;

export interface Desk {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Calls with the page's own session; throws with the answer unless it is 2xx. */
  api<T>(method: string, path: string, body?: unknown): Promise<T>;
  link(name: string | RegExp): ReturnType<Page["getByRole"]>;
  button(name: string | RegExp): ReturnType<Page["getByRole"]>;
}

/** A new window; `signIn` is the address that the server printed, or another window's state. */
export async function openDesk(browser: Browser, options: BrowserContextOptions = LAPTOP): Promise<Desk> {
  const context = await browser.newContext({ acceptDownloads: true, locale: "en-GB", ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  return {
    context,
    page,
    link: (name) => page.getByRole("link", { name, exact: typeof name === "string" }).first(),
    button: (name) => page.getByRole("button", { name, exact: typeof name === "string" }).first(),
    api: (method, path, body) =>
      page.evaluate(
        async ({ method, path, body }) => {
          const response = await fetch(path, {
            method,
            headers: { "x-spondee": "1", ...(body === undefined ? {} : { "content-type": "application/json" }) },
            ...(body === undefined ? {} : { body: JSON.stringify(body) }),
          });
          if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`);
          return (await response.json()) as never;
        },
        { method, path, body },
      ),
  };
}

/** The first coach of an empty server, by the address that it printed. */
export async function setUpDesk(desk: Desk, setupUrl: string): Promise<void> {
  const { page } = desk;
  await page.goto(setupUrl);
  await page.getByLabel("Your name, as runners see it").fill("Coach Invented");
  await page.getByLabel("Name to sign in with").fill("coach");
  await page.getByLabel("Password").fill("a quiet field at dusk");
  await desk.button("Set up").click();
  await desk.button("New group").waitFor();
}

export interface MadeGroup {
  readonly groupId: string;
  /** By name. */
  readonly runnerIds: ReadonlyMap<string, string>;
}

/** A group with these people, made through the page's session. `startsOn` is a plain date. */
export async function makeGroup(
  desk: Desk,
  group: { readonly name: string; readonly startsOn: string },
  runners: readonly { readonly name: string; readonly remote?: boolean }[],
): Promise<MadeGroup> {
  const id = (): string => crypto.randomUUID();
  const groupId = id();
  const evening = new Date(`${group.startsOn}T00:00:00Z`).getUTCDay();
  await desk.api("PUT", `/api/groups/${groupId}`, {
    ...group,
    weeks: 10,
    eveningWeekday: evening === 0 ? 7 : evening,
    timeZone: "UTC",
  });
  const named = runners.map((runner) => ({ id: id(), runner }));
  await desk.api("POST", `/api/groups/${groupId}/roster`, { runners: named });
  return { groupId, runnerIds: new Map(named.map((one) => [one.runner.name, one.id])) };
}

/** Where a story got stuck, for whoever has to find out; only when a folder for it is named. */
export async function pictureOfFailure(
  page: Page,
  { task }: { readonly task: { readonly name: string; readonly result?: { readonly state: string } | undefined } },
): Promise<void> {
  const folder = process.env["SPONDEE_FAILURE_PICTURES"];
  if (folder === undefined || task.result?.state !== "fail") return;
  await page.screenshot({ path: `${folder}/${task.name.replace(/\W+/g, " ").slice(0, 40)}.png` });
}
