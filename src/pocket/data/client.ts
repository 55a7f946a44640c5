// The connection to the coach's server, with the link's token.
import { createClient } from "../../api/client.ts";
import { newId } from "../../api/new-id.ts";
import { createPhoneClock } from "./phone-clock.ts";

let token: string | undefined;

export function useToken(next: string | undefined): void {
  token = next;
}

export const api = createClient({
  fetch: (address, init) => fetch(address, init as RequestInit),
  bearer: () => token,
});

export const phoneClock = createPhoneClock({ wallMs: () => Date.now(), steadyMs: () => performance.now() });

export function makeId(): string {
  return newId(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}

export function nowInstant(): string {
  return new Date(phoneClock.nowMs()).toISOString();
}
