// What was computed of a runner is kept with a hash of what it was computed from; what is stale is found without a search.
import { type Kysely, sql } from "kysely";

export const contentKey = () => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.alterTable("runnerState").addColumn("contentKey", "text").execute();
    await sql`create index "runnerStateStale" on "runnerState" ("runnerId") where "computedFor" <> "dataVersion"`.execute(
      db,
    );
  },
});
