import type { Selectable } from "kysely";
import type { AccountTable } from "../schema/account.ts";
import type { Reading } from "../transaction.ts";

export type AccountRow = Selectable<AccountTable>;

export class AccountReader {
  protected readonly db: Reading;
  constructor(db: Reading) {
    this.db = db;
  }

  async any(): Promise<boolean> {
    return (await this.db.selectFrom("account").select("id").limit(1).executeTakeFirst()) !== undefined;
  }

  byId(id: string): Promise<AccountRow | undefined> {
    return this.db.selectFrom("account").selectAll().where("id", "=", id).executeTakeFirst();
  }

  byName(signInName: string): Promise<AccountRow | undefined> {
    return this.db
      .selectFrom("account")
      .selectAll()
      .where("signInName", "=", signInName.toLowerCase())
      .executeTakeFirst();
  }

  firstOwner(): Promise<AccountRow | undefined> {
    return this.db
      .selectFrom("account")
      .selectAll()
      .where("owner", "=", 1)
      .where("disabled", "=", 0)
      .orderBy("createdAt")
      .orderBy("id")
      .limit(1)
      .executeTakeFirst();
  }

  list(): Promise<AccountRow[]> {
    return this.db.selectFrom("account").selectAll().orderBy("signInName").execute();
  }

  /** The account of a live session, by the hash of its cookie. */
  bySession(tokenHash: string, now: string): Promise<(AccountRow & { lastSeenAt: string }) | undefined> {
    return this.db
      .selectFrom("signInSession")
      .innerJoin("account", "account.id", "signInSession.accountId")
      .selectAll("account")
      .select("signInSession.lastSeenAt")
      .where("signInSession.tokenHash", "=", tokenHash)
      .where("signInSession.expiresAt", ">", now)
      .where("account.disabled", "=", 0)
      .executeTakeFirst();
  }

  /** Roles of an account in a group; undefined when it is no member. */
  async role(groupId: string, accountId: string): Promise<"coach" | "assistant" | undefined> {
    const row = await this.db
      .selectFrom("member")
      .select("role")
      .where("groupId", "=", groupId)
      .where("accountId", "=", accountId)
      .executeTakeFirst();
    return row?.role;
  }

  members(groupId: string) {
    return this.db
      .selectFrom("member")
      .innerJoin("account", "account.id", "member.accountId")
      .select(["member.accountId", "member.role", "account.displayName", "account.signInName"])
      .where("member.groupId", "=", groupId)
      .orderBy("account.displayName")
      .execute();
  }
}
