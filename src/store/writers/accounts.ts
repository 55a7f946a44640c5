import { AccountReader, type AccountRow } from "../readers/accounts.ts";
import { assertTransaction, type Writing } from "../transaction.ts";

/** Accounts, sessions and one-time codes. Not tracked changes: nothing here can be undone. */
export class AccountWriter extends AccountReader {
  readonly #trx: Writing;
  constructor(trx: Writing) {
    super(trx);
    assertTransaction(trx);
    this.#trx = trx;
  }

  async put(row: AccountRow): Promise<void> {
    const { id: _, ...rest } = row;
    await this.#trx
      .insertInto("account")
      .values(row)
      .onConflict((conflict) => conflict.column("id").doUpdateSet(rest))
      .execute();
  }

  async startSession(session: {
    tokenHash: string;
    accountId: string;
    createdAt: string;
    expiresAt: string;
  }): Promise<void> {
    await this.#trx.deleteFrom("signInSession").where("expiresAt", "<=", session.createdAt).execute();
    await this.#trx
      .insertInto("signInSession")
      .values({ ...session, lastSeenAt: session.createdAt })
      .execute();
  }

  async seen(tokenHash: string, now: string, expiresAt: string): Promise<void> {
    await this.#trx
      .updateTable("signInSession")
      .set({ lastSeenAt: now, expiresAt })
      .where("tokenHash", "=", tokenHash)
      .execute();
  }

  async endSession(tokenHash: string): Promise<void> {
    await this.#trx.deleteFrom("signInSession").where("tokenHash", "=", tokenHash).execute();
  }

  async endSessionsOf(accountId: string): Promise<void> {
    await this.#trx.deleteFrom("signInSession").where("accountId", "=", accountId).execute();
  }

  /** A new code replaces the older ones of its purpose. */
  async putCode(code: {
    codeHash: string;
    purpose: "setup" | "sign-in";
    accountId: string | null;
    expiresAt: string;
  }): Promise<void> {
    await this.#trx.deleteFrom("oneTimeCode").where("purpose", "=", code.purpose).execute();
    await this.#trx.insertInto("oneTimeCode").values(code).execute();
  }

  /** Uses a code up. undefined when it is unknown, used or too old. */
  async useCode(
    codeHash: string,
    purpose: "setup" | "sign-in",
    now: string,
  ): Promise<{ accountId: string | null } | undefined> {
    const row = await this.#trx
      .deleteFrom("oneTimeCode")
      .where("codeHash", "=", codeHash)
      .where("purpose", "=", purpose)
      .returning(["accountId", "expiresAt"])
      .executeTakeFirst();
    return row === undefined || row.expiresAt <= now ? undefined : { accountId: row.accountId };
  }
}
