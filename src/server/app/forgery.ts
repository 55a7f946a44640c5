// A page of another site must not be able to act through the coach's browser: three walls besides the SameSite cookie.
import type { FastifyRequest } from "fastify";
import type { ServerSettings } from "./deps.ts";
import { Refusal } from "./refusal.ts";

const READING = new Set(["GET", "HEAD"]);

/** Refuses foreign host names always, and foreign origins and unmarked requests where something is written. */
export function refuseForgery(request: FastifyRequest, settings: ServerSettings): void {
  const host = request.headers.host ?? "";
  if (!settings.allowedHosts.includes(withoutPort(host)))
    throw new Refusal(421, "foreign-host", "This server is not called that. Add the name with --public-origin.");
  if (READING.has(request.method)) return;
  const refuse = () => new Refusal(403, "foreign-origin", "The request did not come from a page of this server.");
  const site = request.headers["sec-fetch-site"];
  if (site !== undefined && site !== "same-origin" && site !== "none") throw refuse();
  const { origin } = request.headers;
  if (origin !== undefined && !isOwnOrigin(origin, host, settings)) throw refuse();
  if (request.headers["x-spondee"] === undefined) throw refuse();
}

function isOwnOrigin(origin: string, host: string, settings: ServerSettings): boolean {
  if (settings.publicOrigin !== undefined && origin === settings.publicOrigin) return true;
  return origin === `http://${host}` || origin === `https://${host}`;
}

function withoutPort(host: string): string {
  return host.replace(/:\d+$/, "").toLowerCase();
}
