// Keeps the page itself on the phone, and asks the server again whenever there is reason to hope.
import type { Phone } from "./phone.ts";

const ASK_AGAIN_MS = 15_000;

export function watchWorld(phone: Phone): void {
  void phone.lookAtRuns();
  void phone.refresh();
  addEventListener("online", () => void phone.refresh());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void phone.refresh();
  });
  // "online" tells of some network, not of the coach's server: ask again while something waits.
  setInterval(() => {
    if (phone.state().outbox.waiting.length > 0) void phone.flush();
  }, ASK_AGAIN_MS);
  // A browser that is short of space may otherwise throw out what has not been sent.
  void navigator.storage?.persist?.().catch(() => false);
  if (import.meta.env.PROD && "serviceWorker" in navigator && globalThis.isSecureContext)
    navigator.serviceWorker.register("/run/sw.js", { scope: "/run/" }).catch(() => undefined);
}
