// Keeps the screen on where the browser can; asks again when the page comes back, because hiding it ends the lock.

export interface Awake {
  release(): void;
}

export function keepAwake(onChange: (held: boolean) => void = () => undefined): Awake {
  let lock: WakeLockSentinel | undefined;
  let wanted = true;
  const ask = async (): Promise<void> => {
    if (!wanted || lock !== undefined || navigator.wakeLock === undefined) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => {
        lock = undefined;
        onChange(false);
      });
      if (wanted) onChange(true);
      else await lock.release();
    } catch {
      // Low battery or not allowed: everything else goes on.
      onChange(false);
    }
  };
  const onVisible = (): void => {
    if (document.visibilityState === "visible") void ask();
  };
  document.addEventListener("visibilitychange", onVisible);
  void ask();
  return {
    release: () => {
      wanted = false;
      document.removeEventListener("visibilitychange", onVisible);
      void lock?.release();
    },
  };
}
