// The app itself is kept on the device (public/sw.js), so that a reload at a track without a network still opens.

/** Only from a built app: while developing, a kept page would hide changes. */
export function keepShell(): void {
  if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return;
  addEventListener("load", () => {
    // Without one everything works but a reload offline; no reason to trouble anyone.
    navigator.serviceWorker.register("/sw.js").then(keepWhatIsOpen, () => undefined);
  });
}

/** On the very first visit everything was fetched before the keeper was there: it is told what, and what an evening needs. */
async function keepWhatIsOpen(): Promise<void> {
  const { active } = await navigator.serviceWorker.ready;
  await import("../evening/evening.tsx").catch(() => undefined);
  const addresses = performance.getEntriesByType("resource").map((one) => one.name);
  active?.postMessage({ keep: addresses });
}
