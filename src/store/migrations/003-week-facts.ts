// The little of a runner's state that lists need, apart from the large rest.
import type { Kysely } from "kysely";

export const weekFacts = () => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.alterTable("runnerState").addColumn("weekJson", "text").execute();
  },
});
