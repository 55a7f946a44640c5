// What a page itself can tell of its speed: when something is on the screen, how long an input took (Event Timing), long tasks,
// and the gaps between frames.
import type { BrowserContext, Page } from "playwright-core";

interface Watched {
  readonly events: { readonly name: string; readonly ms: number; readonly at: number }[];
  readonly longTasksMs: number[];
}

/** Before the page's own scripts. */
export async function watchSpeed(context: BrowserContext): Promise<void> {
  // What the tool that runs this file puts into functions that are sent to a page.
  await context.addInitScript("globalThis.__name = (of) => of");
  await context.addInitScript(() => {
    const watched: Watched = { events: [], longTasksMs: [] };
    Object.assign(globalThis, { watched });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as PerformanceEventTiming[])
        if (entry.interactionId !== 0)
          watched.events.push({ name: entry.name, ms: entry.duration, at: entry.startTime });
    }).observe({ type: "event", buffered: true, durationThreshold: 16 } as PerformanceObserverInit);
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) watched.longTasksMs.push(entry.duration);
    }).observe({ type: "longtask", buffered: true });
  });
}

/** Milliseconds from the start of the navigation until so many of `selector` had been painted. */
export async function shownAfterMs(page: Page, address: string, selector: string, count: number): Promise<number> {
  await page.goto(address, { waitUntil: "commit" });
  return page.evaluate(
    async ({ selector, count }) => {
      const frame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));
      while (document.querySelectorAll(selector).length < count) await frame();
      // The frame after the one in which it was there has it painted.
      await frame();
      return performance.now();
    },
    { selector, count },
  );
}

export interface Interaction {
  /** From the input to the next paint, by the Event Timing API; below its threshold of 16 ms it tells nothing. */
  readonly inputMs: number;
  /** From the input until the result was painted. */
  readonly resultMs: number;
  readonly longTaskMs: number;
}

/** `done` is evaluated in the page at every frame, from the press on. */
export async function interact(page: Page, press: () => Promise<void>, done: () => boolean): Promise<Interaction> {
  await page.waitForTimeout(300);
  // As text, for the page's own policy forbids to make functions of text inside it.
  await page.evaluate(`globalThis.isDone = ${done.toString()}`);
  await page.evaluate(() => {
    const watched = (globalThis as unknown as { watched: Watched }).watched;
    watched.events.length = 0;
    watched.longTasksMs.length = 0;
    const { isDone } = globalThis as unknown as { isDone: () => boolean };
    const result = { from: 0, to: 0 };
    Object.assign(globalThis, { result });
    const began = (event: Event): void => {
      if (result.from !== 0) return;
      result.from = event.timeStamp;
      const look = (): void => {
        if (!isDone()) requestAnimationFrame(look);
        else requestAnimationFrame(() => (result.to = performance.now()));
      };
      look();
    };
    for (const kind of ["pointerdown", "keydown", "change"])
      addEventListener(kind, began, { capture: true, once: true });
  });
  await press();
  await page.waitForFunction(() => (globalThis as unknown as { result: { to: number } }).result.to > 0);
  await page.waitForTimeout(200);
  return page.evaluate(() => {
    const { watched, result } = globalThis as unknown as { watched: Watched; result: { from: number; to: number } };
    return {
      inputMs: Math.max(0, ...watched.events.map((event) => event.ms)),
      resultMs: result.to - result.from,
      longTaskMs: Math.max(0, ...watched.longTasksMs),
    };
  });
}

export interface Frames {
  readonly perSecond: number;
  /** The gap that 95 % of frames stay below. */
  readonly gap95Ms: number;
}

/** Frames while `act` goes on, which is called again and again. */
export async function framesWhile(page: Page, act: () => Promise<void>, ms: number): Promise<Frames> {
  await page.evaluate(() => {
    const gaps: number[] = [];
    let last = performance.now();
    const frame = (now: number): void => {
      gaps.push(now - last);
      last = now;
      if ((globalThis as unknown as { counting: boolean }).counting) requestAnimationFrame(frame);
    };
    Object.assign(globalThis, { counting: true, gaps });
    requestAnimationFrame(frame);
  });
  const until = Date.now() + ms;
  while (Date.now() < until) await act();
  const gaps = await page.evaluate(() => {
    const all = globalThis as unknown as { counting: boolean; gaps: number[] };
    all.counting = false;
    return all.gaps.slice(2);
  });
  const sorted = gaps.toSorted((a, b) => a - b);
  return {
    perSecond: (1000 * gaps.length) / gaps.reduce((sum, gap) => sum + gap, 0),
    gap95Ms: sorted[Math.floor(0.95 * (sorted.length - 1))] ?? Number.NaN,
  };
}
