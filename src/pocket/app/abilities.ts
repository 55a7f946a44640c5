// What this browser, at this address, can do. Without a secure context much is missing; the page says what and why.

export interface Abilities {
  readonly secure: boolean;
  readonly offline: boolean;
  readonly motion: boolean;
  readonly location: boolean;
  readonly wakeLock: boolean;
  readonly vibration: boolean;
}

export function readAbilities(): Abilities {
  const secure = globalThis.isSecureContext;
  return {
    secure,
    offline: secure && "serviceWorker" in navigator,
    motion: secure && "DeviceMotionEvent" in globalThis,
    location: secure && "geolocation" in navigator,
    wakeLock: secure && "wakeLock" in navigator,
    vibration: "vibrate" in navigator,
  };
}

const lost: readonly (readonly [keyof Abilities, string])[] = [
  ["motion", "count your steps while you run"],
  ["offline", "open without a signal"],
  ["wakeLock", "keep the screen on"],
  ["location", "know your speed"],
];

/** One or two plain sentences about what is missing; undefined when nothing is. */
export function describeMissing(abilities: Abilities): string | undefined {
  const missing = lost.flatMap(([name, words]) => (abilities[name] ? [] : [words]));
  if (missing.length === 0) return undefined;
  const list = missing.length === 1 ? missing[0] : `${missing.slice(0, -1).join(", ")} or ${missing.at(-1)}`;
  const why = abilities.secure
    ? "This browser does not offer it."
    : "Browsers allow that only on an https address with a trusted certificate; ask your coach for one.";
  return `Here the page cannot ${list}. ${why} Counting, tapping, the beat and sending work.`;
}
