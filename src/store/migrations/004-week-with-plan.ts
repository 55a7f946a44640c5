// What lists keep of a runner now holds the plan's outline: what was kept without it is made anew at the next look.
import type { Kysely } from "kysely";

interface Before {
  runnerState: { weekJson: string | null };
}

export const weekWithPlan = () => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await (db as Kysely<Before>).updateTable("runnerState").set({ weekJson: null }).execute();
  },
});
