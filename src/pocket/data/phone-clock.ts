// What time it is, on a phone whose clock may be wrong or be changed: never before the server was last heard.

export interface PhoneClock {
  /** The server said what time it is, UTC milliseconds. */
  told(serverMs: number): void;
  /** UTC milliseconds. */
  nowMs(): number;
}

export interface PhoneClockDeps {
  /** The phone's clock, which people and networks change. UTC milliseconds. */
  readonly wallMs: () => number;
  /** A clock that only runs forward; it may stand still while the phone sleeps. Milliseconds. */
  readonly steadyMs: () => number;
}

/**
 * Once told, the phone's clock is corrected by its error at that moment. It never answers less than the last time told plus
 * what has passed since on the steady clock, so that a clock set back does not date things into the past. A clock set
 * forward while no server is heard cannot be seen here: the server takes nothing from the future.
 */
export function createPhoneClock({ wallMs, steadyMs }: PhoneClockDeps): PhoneClock {
  let errorMs = 0;
  let floor: { readonly serverMs: number; readonly steadyMs: number } | undefined;
  return {
    told: (serverMs) => {
      if (!Number.isFinite(serverMs)) return;
      errorMs = wallMs() - serverMs;
      floor = { serverMs, steadyMs: steadyMs() };
    },
    nowMs: () => {
      const corrected = wallMs() - errorMs;
      return floor === undefined ? corrected : Math.max(corrected, floor.serverMs + steadyMs() - floor.steadyMs);
    },
  };
}
