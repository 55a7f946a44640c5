// Works jobs off, one at a time per lane of a process. A job is done again from the start when its process dies: every kind is
// written so that doing it twice is doing it once.
import { type Claim, claimJob, finishJob, type JobRow, returnJob } from "../../store/index.ts";
import { freshSecret, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";

/** A claim lasts this long unless it is renewed: so soon after a kill is the job free again for another process. */
const CLAIM_MS = 15_000;
const RENEW_MS = 5000;
const MAX_ATTEMPTS = 25;
const RETRY_MS = 30_000;

/** `stopping` is raised when the process is to end: a job that waits for others then gives up. */
export type JobHandler = (payload: unknown, stopping: AbortSignal) => Promise<void>;

export interface JobRunner {
  /** Works off everything that is due now. */
  drain(): Promise<number>;
  wake(): void;
  stop(): Promise<void>;
}

export function createJobRunner(
  deps: Omit<Deps, "wakeJobs">,
  handlers: Readonly<Record<string, JobHandler>>,
  options: {
    readonly lookEveryMs?: number;
    /** Kinds that wait for other machines: each runs in a lane of its own and holds up nothing else. */
    readonly ownLanes?: readonly string[];
  } = {},
): JobRunner {
  const me = freshSecret(deps.clock);
  const stopping = new AbortController();

  const later = (ms: number): string => new Date(deps.clock.now().getTime() + ms).toISOString();

  const renew = (job: JobRow): void => {
    deps.store
      .write((trx) =>
        trx
          .updateTable("job")
          .set({ claimedUntil: later(CLAIM_MS) })
          .where("id", "=", job.id)
          .where("claimedBy", "=", me)
          .execute(),
      )
      .catch((error: unknown) => deps.log.error("jobs: cannot renew", { error }));
  };

  const work = async (job: JobRow): Promise<void> => {
    const renewing = setInterval(() => renew(job), RENEW_MS);
    try {
      const handler = handlers[job.kind];
      if (handler === undefined) throw new TypeError(`no handler for jobs of kind ${job.kind}`);
      await handler(JSON.parse(job.payloadJson), stopping.signal);
      await deps.store.write((trx) => finishJob(trx, job.id));
      deps.metrics.count("jobs_done");
    } catch (error) {
      deps.metrics.count("jobs_failed");
      deps.log.error("job failed", { kind: job.kind, job: job.id, attempt: job.attempts, error });
      const name = error instanceof Error ? error.name : "unknown";
      await deps.store.write((trx) => returnJob(trx, job.id, later(RETRY_MS * 2 ** Math.min(job.attempts, 8)), name));
    } finally {
      clearInterval(renewing);
    }
  };

  const { ownLanes = [] } = options;
  const lanes = [createLane({ not: ownLanes }), ...ownLanes.map((kind) => createLane({ only: [kind] }))];

  /** Works one lane off; asked again meanwhile, it looks once more before it ends. */
  function createLane(kinds: NonNullable<Claim["kinds"]>): () => Promise<number> {
    let running: Promise<number> | undefined;
    let again = false;
    const drainOnce = async (): Promise<number> => {
      let done = 0;
      while (!stopping.signal.aborted) {
        const claim = { by: me, now: instant(deps.clock), until: later(CLAIM_MS), maxAttempts: MAX_ATTEMPTS, kinds };
        const job = await deps.store.write((trx) => claimJob(trx, claim));
        if (job === undefined) break;
        await work(job);
        done += 1;
      }
      return done;
    };
    return () => {
      if (running !== undefined) {
        again = true;
        return running;
      }
      running = (async () => {
        let done = 0;
        do {
          again = false;
          done += await drainOnce();
        } while (again && !stopping.signal.aborted);
        return done;
      })().finally(() => {
        running = undefined;
      });
      return running;
    };
  }

  const drain = async (): Promise<number> => {
    const counts = await Promise.all(lanes.map((drainLane) => drainLane()));
    return counts.reduce((sum, count) => sum + count, 0);
  };

  const quietly = (): void => {
    if (stopping.signal.aborted) return;
    for (const drainLane of lanes)
      drainLane().catch((error: unknown) => deps.log.error("jobs: cannot look", { error }));
  };
  const timer = options.lookEveryMs === undefined ? undefined : setInterval(quietly, options.lookEveryMs);
  timer?.unref();

  return {
    drain,
    wake: () => setImmediate(quietly),
    async stop() {
      stopping.abort();
      clearInterval(timer);
      await Promise.allSettled(lanes.map((drainLane) => drainLane()));
    },
  };
}
