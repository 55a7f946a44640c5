// Works jobs off, one at a time per process. A job is done again from the start when its process dies: every kind is
// written so that doing it twice is doing it once.
import { claimJob, finishJob, type JobRow, returnJob } from "../../store/index.ts";
import { freshSecret, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";

/** A claim lasts this long unless it is renewed: so soon after a kill is the job free again for another process. */
const CLAIM_MS = 15_000;
const RENEW_MS = 5000;
const MAX_ATTEMPTS = 25;
const RETRY_MS = 30_000;

export type JobHandler = (payload: unknown) => Promise<void>;

export interface JobRunner {
  /** Works off everything that is due now. */
  drain(): Promise<number>;
  wake(): void;
  stop(): Promise<void>;
}

export function createJobRunner(
  deps: Omit<Deps, "wakeJobs">,
  handlers: Readonly<Record<string, JobHandler>>,
  options: { readonly lookEveryMs?: number } = {},
): JobRunner {
  const me = freshSecret(deps.clock);
  let running: Promise<number> | undefined;
  let again = false;
  let stopped = false;

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
      await handler(JSON.parse(job.payloadJson));
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

  const drainOnce = async (): Promise<number> => {
    let done = 0;
    while (!stopped) {
      const claim = { by: me, now: instant(deps.clock), until: later(CLAIM_MS), maxAttempts: MAX_ATTEMPTS };
      const job = await deps.store.write((trx) => claimJob(trx, claim));
      if (job === undefined) break;
      await work(job);
      done += 1;
    }
    return done;
  };

  const drain = async (): Promise<number> => {
    if (running !== undefined) {
      again = true;
      return running;
    }
    running = (async () => {
      let done = 0;
      do {
        again = false;
        done += await drainOnce();
      } while (again && !stopped);
      return done;
    })().finally(() => {
      running = undefined;
    });
    return running;
  };

  const quietly = (): void => {
    if (!stopped) drain().catch((error: unknown) => deps.log.error("jobs: cannot look", { error }));
  };
  const timer = options.lookEveryMs === undefined ? undefined : setInterval(quietly, options.lookEveryMs);
  timer?.unref();

  return {
    drain,
    wake: () => setImmediate(quietly),
    async stop() {
      stopped = true;
      clearInterval(timer);
      await running?.catch(() => undefined);
    },
  };
}
