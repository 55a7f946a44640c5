// Templates and drills, addresses, outbox and calendar feeds of a group.
import type { Selectable } from "kysely";
import type { Database } from "../schema/database.ts";
import type { Reading } from "../transaction.ts";

export type PracticePieceRow = Selectable<Database["practicePiece"]>;
export type MailItemRow = Selectable<Database["mailItem"]>;
export type CalendarFeedRow = Selectable<Database["calendarFeed"]>;
export type MailServerRow = Selectable<Database["mailServer"]>;

export class HandOutReader {
  readonly #db: Reading;
  constructor(db: Reading) {
    this.#db = db;
  }

  pieces(groupId: string): Promise<PracticePieceRow[]> {
    return this.#db
      .selectFrom("practicePiece")
      .selectAll()
      .where("groupId", "=", groupId)
      .orderBy("nameKey")
      .orderBy("id")
      .execute();
  }

  piece(id: string): Promise<PracticePieceRow | undefined> {
    return this.#db.selectFrom("practicePiece").selectAll().where("id", "=", id).executeTakeFirst();
  }

  async addresses(groupId: string): Promise<ReadonlyMap<string, string>> {
    const rows = await this.#db
      .selectFrom("mailAddress")
      .innerJoin("runner", "runner.id", "mailAddress.runnerId")
      .select(["mailAddress.runnerId", "mailAddress.address"])
      .where("runner.groupId", "=", groupId)
      .execute();
    return new Map(rows.map((row) => [row.runnerId, row.address]));
  }

  mailServer(accountId: string): Promise<MailServerRow | undefined> {
    return this.#db.selectFrom("mailServer").selectAll().where("accountId", "=", accountId).executeTakeFirst();
  }

  /** Newest first. */
  mail(groupId: string, limit: number): Promise<MailItemRow[]> {
    return this.#db
      .selectFrom("mailItem")
      .selectAll()
      .where("groupId", "=", groupId)
      .orderBy("createdAt", "desc")
      .orderBy("id", "desc")
      .limit(limit)
      .execute();
  }

  mailItem(id: string): Promise<MailItemRow | undefined> {
    return this.#db.selectFrom("mailItem").selectAll().where("id", "=", id).executeTakeFirst();
  }

  feeds(groupId: string): Promise<CalendarFeedRow[]> {
    return this.#db
      .selectFrom("calendarFeed")
      .selectAll()
      .where("groupId", "=", groupId)
      .orderBy("createdAt", "desc")
      .orderBy("id", "desc")
      .execute();
  }

  feedByToken(tokenHash: string): Promise<CalendarFeedRow | undefined> {
    return this.#db.selectFrom("calendarFeed").selectAll().where("tokenHash", "=", tokenHash).executeTakeFirst();
  }
}
