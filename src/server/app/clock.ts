// Time and randomness, handed in so that tests decide both.
import { randomBytes } from "node:crypto";
import { newId } from "../../api/new-id.ts";

export interface Clock {
  now(): Date;
  randomBytes(count: number): Uint8Array;
}

export const systemClock: Clock = { now: () => new Date(), randomBytes: (count) => randomBytes(count) };

export function instant(clock: Clock): string {
  return clock.now().toISOString();
}

export function freshId(clock: Clock): string {
  return newId(clock.now().getTime(), clock.randomBytes(10));
}

/** 256 bits as text that is safe in an address. */
export function freshSecret(clock: Clock): string {
  return Buffer.from(clock.randomBytes(32)).toString("base64url");
}

const MS_PER_DAY = 86_400_000;

/** Negative for earlier. */
export function daysLater(clock: Pick<Clock, "now">, days: number): string {
  return new Date(clock.now().getTime() + days * MS_PER_DAY).toISOString();
}
