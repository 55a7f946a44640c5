// A real Chromium for a test, driven through playwright-core. Nothing is downloaded and nothing outside this machine is asked.
import { type Browser, chromium, type Page } from "playwright-core";
import { expect } from "vitest";

const quiet = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-dev-shm-usage",
];

/** `SPONDEE_CHROMIUM` is set by the test script; a bare run of the test file uses Debian's place. */
export function launchBrowser(extraArgs: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env["SPONDEE_CHROMIUM"] ?? "/usr/bin/chromium",
    args: [...quiet, ...extraArgs],
  });
}

/**
 * Collects what must not happen on a page: errors, and requests that leave the server. Call the result at the end.
 * `expected` are console lines that the story itself provokes, such as the first 401 of somebody not signed in.
 */
export function watchPage(page: Page, origin: string, expected?: RegExp): () => void {
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(`page error: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error" && expected?.test(message.text()) !== true)
      faults.push(`console: ${message.text()}`);
  });
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(origin) && !/^(data|blob|about):/.test(url)) faults.push(`request to elsewhere: ${url}`);
  });
  return () => expect(faults).toEqual([]);
}
