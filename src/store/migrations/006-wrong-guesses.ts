// Wrong passwords are counted in the database, so that several processes brake a guesser together.
import type { Kysely } from "kysely";

export const wrongGuesses = () => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema
      .createTable("wrongGuess")
      .addColumn("nameHash", "text", (column) => column.primaryKey().notNull())
      .addColumn("count", "integer", (column) => column.notNull())
      .addColumn("freeAt", "text", (column) => column.notNull())
      .execute();
  },
});
