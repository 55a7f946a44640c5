// A runner's phone without a runner: acceleration of an invented gait, sent to the page as the browser's own events.
import type { BrowserContext } from "playwright-core";

/**
 * From the page's load on, `startGait(spm)` sends devicemotion events at 60 Hz: gravity, a bounce at the step rate, a sway at
 * half of it, and the impacts; `stopGait()` ends it. The signal is a function of the page's clock, so a stall loses samples
 * and changes nothing else.
 */
export async function giveGait(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    let timer: ReturnType<typeof setInterval> | undefined;
    const page = globalThis as unknown as { startGait(spm: number): void; stopGait(): void };
    page.startGait = (spm) => {
      clearInterval(timer);
      timer = setInterval(() => {
        const phase = (2 * Math.PI * spm * performance.now()) / 60_000;
        const impact = 9 * Math.exp(6 * (Math.cos(phase) - 1));
        const acceleration = {
          x: 1.2 * Math.sin(phase / 2),
          y: 9.81 + 4 * Math.cos(phase) + impact,
          z: 1.5 * Math.sin(phase + 0.7),
        };
        dispatchEvent(
          new DeviceMotionEvent("devicemotion", {
            accelerationIncludingGravity: acceleration,
            interval: 16,
          }),
        );
      }, 1000 / 60);
    };
    page.stopGait = () => clearInterval(timer);
  });
}
