// The one connection of the desk to its server.
import { createClient, type Fetch, newId } from "../../api/index.ts";

const browserFetch: Fetch = (address, init) => fetch(address, init as RequestInit);

export const api = createClient({ fetch: browserFetch });

/** A fresh id; whoever creates a thing names it, so that sending twice stores once. */
export function makeId(): string {
  return newId(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}

export function nowInstant(): string {
  return new Date().toISOString();
}

/** Today on this machine's calendar, as a plain date. */
export function todayPlain(now = new Date()): string {
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
