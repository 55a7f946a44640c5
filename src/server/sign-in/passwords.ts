// Passwords through scrypt (RFC 7914), which needs memory as well as time. Parameters travel with each hash.
import { scrypt, timingSafeEqual } from "node:crypto";
import type { PasswordCost } from "../app/deps.ts";

const KEY_BYTES = 32;

/** "scrypt$N$r$p$salt$key", salt and key in base64url. `salt` is at least 16 random bytes. */
export async function hashPassword(password: string, salt: Uint8Array, cost: PasswordCost): Promise<string> {
  if (salt.length < 16) throw new RangeError(`hashPassword: salt must hold at least 16 bytes, got ${salt.length}`);
  const key = await derive(password, salt, cost);
  const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString("base64url");
  return `scrypt$${cost.n}$${cost.r}$${cost.p}$${text(salt)}$${text(key)}`;
}

/** Takes the same time for a wrong password as for a right one; false for a text that is no hash. */
export async function checkPassword(password: string, stored: string): Promise<boolean> {
  const [scheme, n, r, p, salt, key] = stored.split("$");
  if (scheme !== "scrypt" || n === undefined || r === undefined || p === undefined) return false;
  if (salt === undefined || key === undefined) return false;
  const cost = { n: Number(n), r: Number(r), p: Number(p) };
  const derived = await derive(password, Buffer.from(salt, "base64url"), cost);
  const expected = Buffer.from(key, "base64url");
  return expected.length === derived.length && timingSafeEqual(derived, expected);
}

function derive(password: string, salt: Uint8Array, cost: PasswordCost): Promise<Buffer> {
  const options = { N: cost.n, r: cost.r, p: cost.p, maxmem: 256 * cost.n * cost.r };
  return new Promise((resolve, reject) => {
    // The same letters typed on different keyboards are the same password (NFKC).
    scrypt(password.normalize("NFKC"), salt, KEY_BYTES, options, (error, key) =>
      error === null ? resolve(key) : reject(error),
    );
  });
}
