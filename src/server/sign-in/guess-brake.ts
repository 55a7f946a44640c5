// Slows guessing down, by name: after a few wrong passwords each further try must wait longer.

const FREE_TRIES = 5;
const LONGEST_WAIT_MS = 15 * 60_000;
const MOST_NAMES = 10_000;

export interface GuessBrake {
  /** Milliseconds to wait before this name may be tried again; 0 when it may be now. */
  waitMs(name: string, nowMs: number): number;
  failed(name: string, nowMs: number): void;
  succeeded(name: string): void;
}

/** Waits 1 s after 5 wrong guesses and twice as long after each further one, up to 15 minutes. One per process. */
export function createGuessBrake(): GuessBrake {
  const tries = new Map<string, { count: number; freeAtMs: number }>();
  return {
    waitMs: (name, nowMs) => Math.max(0, (tries.get(name)?.freeAtMs ?? 0) - nowMs),
    failed(name, nowMs) {
      const count = (tries.get(name)?.count ?? 0) + 1;
      const wait = count < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, 1000 * 2 ** (count - FREE_TRIES));
      tries.delete(name);
      tries.set(name, { count, freeAtMs: nowMs + wait });
      const oldest = tries.keys().next();
      if (tries.size > MOST_NAMES && oldest.done !== true) tries.delete(oldest.value);
    },
    succeeded: (name) => void tries.delete(name),
  };
}
