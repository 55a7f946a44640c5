// Codes for the terminal: the first set-up, and signing in on this machine without typing a password.
import { AccountReader, AccountWriter } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
import { freshSecret } from "../app/clock.ts";
import { hashSecret } from "./secrets.ts";

const CODE_HOURS = 12;
const MS_PER_HOUR = 3_600_000;

function expiry(deps: Deps): string {
  return new Date(deps.clock.now().getTime() + CODE_HOURS * MS_PER_HOUR).toISOString();
}

/** Makes the first coach; null when there is one already. */
export async function makeSetupCode(deps: Deps): Promise<string | null> {
  if (await new AccountReader(deps.store.db).any()) return null;
  const code = freshSecret(deps.clock);
  await deps.store.write((trx) =>
    new AccountWriter(trx).putCode({
      codeHash: hashSecret(code),
      purpose: "setup",
      accountId: null,
      expiresAt: expiry(deps),
    }),
  );
  return code;
}

/** Signs the owner in, once, within 12 hours; null when there is no account yet. */
export async function makeSignInCode(deps: Deps): Promise<string | null> {
  const owner = await new AccountReader(deps.store.db).firstOwner();
  if (owner === undefined) return null;
  const code = freshSecret(deps.clock);
  await deps.store.write((trx) =>
    new AccountWriter(trx).putCode({
      codeHash: hashSecret(code),
      purpose: "sign-in",
      accountId: owner.id,
      expiresAt: expiry(deps),
    }),
  );
  return code;
}
