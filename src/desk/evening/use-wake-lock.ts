import { useEffect } from "react";

/** Keeps the screen awake while `on`; asks again when the page comes back, since the browser lets go when it is hidden. */
export function useWakeLock(on: boolean): void {
  useEffect(() => {
    if (!on || !("wakeLock" in navigator)) return undefined;
    let lock: WakeLockSentinel | undefined;
    let left = false;
    const ask = (): void => {
      if (document.visibilityState !== "visible") return;
      navigator.wakeLock
        .request("screen")
        .then((granted) => {
          if (left) void granted.release();
          else lock = granted;
        })
        // Refused on a low battery or in an insecure page: the screen may dim, nothing else changes.
        .catch(() => undefined);
    };
    ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      left = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
    };
  }, [on]);
}
