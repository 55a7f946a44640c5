// The app itself is kept on the device (public/sw.js), so that a reload at a track without a network still opens.

/** Only from a built app: while developing, a kept page would hide changes. */
export function keepShell(): void {
  if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return;
  addEventListener("load", () => {
    // Without one everything works but a reload offline; no reason to trouble anyone.
    navigator.serviceWorker.register("/sw.js").catch(() => undefined);
  });
}
