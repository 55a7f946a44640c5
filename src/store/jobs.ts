// Work to do later, claimed by one process at a time. A claim runs out, so that a killed process blocks nothing.
import type { Selectable } from "kysely";
import type { Database } from "./schema/database.ts";
import { assertTransaction, type Reading, type Writing } from "./transaction.ts";

export type JobRow = Selectable<Database["job"]>;

export interface NewJob {
  readonly id: string;
  /** Asking again with the same key is asking once. */
  readonly jobKey: string;
  readonly kind: string;
  readonly payload: unknown;
  readonly at: string;
}

export async function addJob(trx: Writing, job: NewJob): Promise<void> {
  assertTransaction(trx);
  await trx
    .insertInto("job")
    .values({
      id: job.id,
      jobKey: job.jobKey,
      kind: job.kind,
      payloadJson: JSON.stringify(job.payload),
      runAfter: job.at,
      attempts: 0,
      claimedBy: null,
      claimedUntil: null,
      lastError: null,
      createdAt: job.at,
    })
    .onConflict((conflict) => conflict.column("jobKey").doNothing())
    .execute();
}

export interface Claim {
  readonly by: string;
  readonly now: string;
  readonly until: string;
  readonly maxAttempts: number;
  /** Only these kinds, or all but these; any when absent. */
  readonly kinds?: { readonly only: readonly string[] } | { readonly not: readonly string[] };
}

/** The oldest job that is due and not in another's hands; undefined when there is none. */
export async function claimJob(trx: Writing, claim: Claim): Promise<JobRow | undefined> {
  assertTransaction(trx);
  const { kinds } = claim;
  const jobs = trx.selectFrom("job").selectAll();
  // An empty list is no SQL for PostgreSQL.
  const anyKind = kinds === undefined || ("not" in kinds && kinds.not.length === 0);
  const ofKind = anyKind
    ? jobs
    : "only" in kinds
      ? jobs.where("kind", "in", kinds.only)
      : jobs.where("kind", "not in", kinds.not);
  const due = await ofKind
    .where("runAfter", "<=", claim.now)
    .where("attempts", "<", claim.maxAttempts)
    .where((build) => build.or([build("claimedUntil", "is", null), build("claimedUntil", "<=", claim.now)]))
    .orderBy("runAfter")
    .orderBy("id")
    .limit(1)
    .executeTakeFirst();
  if (due === undefined) return undefined;
  return trx
    .updateTable("job")
    .set({ claimedBy: claim.by, claimedUntil: claim.until, attempts: due.attempts + 1 })
    .where("id", "=", due.id)
    .where("attempts", "=", due.attempts)
    .returningAll()
    .executeTakeFirst();
}

export async function finishJob(trx: Writing, id: string): Promise<void> {
  assertTransaction(trx);
  await trx.deleteFrom("job").where("id", "=", id).execute();
}

/** Gives a job back, to be tried again later. */
export async function returnJob(trx: Writing, id: string, runAfter: string, error: string): Promise<void> {
  assertTransaction(trx);
  await trx
    .updateTable("job")
    .set({ claimedBy: null, claimedUntil: null, runAfter, lastError: error.slice(0, 1000) })
    .where("id", "=", id)
    .execute();
}

export async function waitingJobCount(db: Reading): Promise<number> {
  const { count } = await db
    .selectFrom("job")
    .select((build) => build.fn.countAll<number>().as("count"))
    .executeTakeFirstOrThrow();
  return Number(count);
}
