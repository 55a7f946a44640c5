// What runners said about pain lately: one look-back for everything that asks how someone is now.
import { type Reading, RunnerReader } from "../../store/index.ts";
import { type Clock, daysLater } from "../app/clock.ts";

/** Pain older than this says nothing about now. */
const PAIN_DAYS = 7;

type PainRow = Awaited<ReturnType<RunnerReader["painSince"]>>[number];

/** Each runner's answers of the last week, oldest first; runners who said nothing are absent. One query. */
export async function recentPain(
  db: Reading,
  runnerIds: readonly string[],
  clock: Pick<Clock, "now">,
): Promise<ReadonlyMap<string, readonly PainRow[]>> {
  const byRunner = new Map<string, PainRow[]>();
  for (const row of await new RunnerReader(db).painSince(runnerIds, daysLater(clock, -PAIN_DAYS)))
    byRunner.set(row.runnerId, [...(byRunner.get(row.runnerId) ?? []), row]);
  return byRunner;
}
