// The session cookie: HttpOnly, SameSite=Strict, a secret of which the store has the hash.
import type { FastifyReply, FastifyRequest } from "fastify";
import { AccountReader, type AccountRow, AccountWriter } from "../../store/index.ts";
import { daysLater, freshSecret, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { hashSecret } from "./secrets.ts";

const SESSION_DAYS = 30;
const MS_PER_HOUR = 3_600_000;

function cookieName(deps: Deps): string {
  return deps.settings.secureCookies ? "__Host-spondee" : "spondee";
}

export function sessionToken(deps: Deps, request: FastifyRequest): string | undefined {
  return request.cookies[cookieName(deps)];
}

/** The signed-in account, or null. Puts off the end of a session that is in use, once an hour. */
export async function readSession(deps: Deps, request: FastifyRequest): Promise<AccountRow | null> {
  const token = sessionToken(deps, request);
  if (token === undefined) return null;
  const tokenHash = hashSecret(token);
  const now = instant(deps.clock);
  const found = await new AccountReader(deps.store.db).bySession(tokenHash, now);
  if (found === undefined) return null;
  const { lastSeenAt, ...account } = found;
  if (deps.clock.now().getTime() - Date.parse(lastSeenAt) > MS_PER_HOUR)
    await deps.store.write((trx) => new AccountWriter(trx).seen(tokenHash, now, daysLater(deps.clock, SESSION_DAYS)));
  return account;
}

export async function startSession(deps: Deps, accountId: string, reply: FastifyReply): Promise<void> {
  const token = freshSecret(deps.clock);
  await deps.store.write((trx) =>
    new AccountWriter(trx).startSession({
      tokenHash: hashSecret(token),
      accountId,
      createdAt: instant(deps.clock),
      expiresAt: daysLater(deps.clock, SESSION_DAYS),
    }),
  );
  void reply.setCookie(cookieName(deps), token, {
    path: "/",
    httpOnly: true,
    sameSite: "strict",
    secure: deps.settings.secureCookies,
    maxAge: SESSION_DAYS * 24 * 3600,
  });
}

export function clearCookie(deps: Deps, reply: FastifyReply): void {
  void reply.clearCookie(cookieName(deps), { path: "/", secure: deps.settings.secureCookies, sameSite: "strict" });
}
