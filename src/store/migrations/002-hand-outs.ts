// What a coach hands out: own templates and drills, addresses, the mail server and its outbox, calendar feeds.
import type { Kysely } from "kysely";

export const handOuts = () => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema
      .createTable("practicePiece")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("groupId", "text", (column) => column.notNull().references("coachGroup.id"))
      .addColumn("kind", "text", (column) => column.notNull())
      .addColumn("nameKey", "text", (column) => column.notNull())
      .addColumn("pieceJson", "text", (column) => column.notNull())
      .addColumn("createdAt", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("mailAddress")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("runnerId", "text", (column) => column.notNull().references("runner.id"))
      .addColumn("address", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("mailServer")
      .addColumn("accountId", "text", (column) => column.primaryKey().notNull().references("account.id"))
      .addColumn("host", "text", (column) => column.notNull())
      .addColumn("port", "integer", (column) => column.notNull())
      .addColumn("encryption", "text", (column) => column.notNull())
      .addColumn("userName", "text")
      .addColumn("sealedPassword", "text")
      .addColumn("fromAddress", "text", (column) => column.notNull())
      .addColumn("changedAt", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("mailItem")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("mailKey", "text", (column) => column.notNull().unique())
      .addColumn("accountId", "text", (column) => column.notNull().references("account.id"))
      .addColumn("groupId", "text", (column) => column.notNull().references("coachGroup.id"))
      .addColumn("runnerId", "text", (column) => column.notNull().references("runner.id"))
      .addColumn("messageId", "text", (column) => column.notNull())
      .addColumn("messageJson", "text", (column) => column.notNull())
      .addColumn("createdAt", "text", (column) => column.notNull())
      .addColumn("attempts", "integer", (column) => column.notNull())
      .addColumn("status", "text", (column) => column.notNull())
      .addColumn("stateAt", "text", (column) => column.notNull())
      .addColumn("stateJson", "text", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("calendarFeed")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("groupId", "text", (column) => column.notNull().references("coachGroup.id"))
      .addColumn("runnerId", "text", (column) => column.references("runner.id"))
      .addColumn("tokenHash", "text", (column) => column.notNull().unique())
      .addColumn("createdAt", "text", (column) => column.notNull())
      .addColumn("revokedAt", "text")
      .addColumn("lastUsedAt", "text")
      .execute();
    const index = async (name: string, on: string, columns: string[]): Promise<void> => {
      await db.schema.createIndex(name).on(on).columns(columns).execute();
    };
    await index("practicePieceByGroup", "practicePiece", ["groupId", "kind", "nameKey"]); // the list, in order
    await index("mailAddressByRunner", "mailAddress", ["runnerId"]); // deleting a person
    await index("mailItemByState", "mailItem", ["accountId", "status", "stateAt"]); // what is due
    await index("mailItemByGroup", "mailItem", ["groupId", "createdAt"]); // the outbox, newest first
    await index("mailItemByRunner", "mailItem", ["runnerId"]); // deleting a person
    await index("calendarFeedByGroup", "calendarFeed", ["groupId", "createdAt"]); // feeds of a group
    await index("calendarFeedByRunner", "calendarFeed", ["runnerId"]); // deleting a person
  },
});
