// Where the server may listen. Anything wider than this machine carries passwords and health data over a network, so it
// needs HTTPS: the server's own, or a declared proxy's.

export interface BindWish {
  readonly host: string;
  readonly publicOrigin?: string;
  readonly ownHttps: boolean;
}

export class BindRefusedError extends Error {
  override name = "BindRefusedError";
}

const LOOPBACK = new Set(["127.0.0.1", "::1", "localhost"]);

function isLoopbackHost(host: string): boolean {
  return LOOPBACK.has(host);
}

/** Throws BindRefusedError, in words, when passwords would travel in the clear. */
export function assertBindAllowed(wish: BindWish): void {
  if (wish.publicOrigin !== undefined && !/^https?:\/\/[^/\s]+$/.test(wish.publicOrigin))
    throw new BindRefusedError(`--public-origin must look like https://coach.example, got ${wish.publicOrigin}`);
  if (isLoopbackHost(wish.host) || wish.ownHttps) return;
  if (wish.publicOrigin?.startsWith("https://") === true) return;
  throw new BindRefusedError(
    [
      `Spondee does not listen on ${wish.host} without HTTPS: passwords and runners' health data would travel readable.`,
      "Either stay on this machine (leave --host away),",
      "or use --https, which makes a certificate for this machine's own names,",
      "or put a proxy with a certificate in front and say so: --public-origin https://your.name.example",
    ].join("\n"),
  );
}

/** Host names that requests may carry; see forgery.ts. */
export function allowedHosts(wish: BindWish, names: readonly string[]): string[] {
  const own = ["localhost", "127.0.0.1", "[::1]"];
  const origin = wish.publicOrigin === undefined ? [] : [new URL(wish.publicOrigin).hostname.toLowerCase()];
  const wide = isLoopbackHost(wish.host)
    ? []
    : [wish.host, ...names].map((name) => (name.includes(":") ? `[${name}]` : name.toLowerCase()));
  return [...new Set([...own, ...origin, ...wide])];
}
