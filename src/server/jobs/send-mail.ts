// Sends what waits in the outboxes, and asks to be called again when the next message is due.
import { addJob } from "../../store/index.ts";
import { freshId } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { SENDING_LIMIT_S } from "../mail/mail-outbox.ts";
import { sendDueMail } from "../mail/coach-mail.ts";

type JobDeps = Omit<Deps, "wakeJobs">;

export async function sendMail(deps: JobDeps, stopping?: AbortSignal): Promise<void> {
  await sendDueMail(deps, stopping);
  const next = await nextDue(deps);
  if (next !== undefined) await askToSend(deps, next);
}

/** Asks for the outboxes to be looked at. Asking twice for one moment is asking once. */
export async function askToSend(deps: JobDeps, at: string, key = at): Promise<void> {
  await deps.store.write((trx) =>
    addJob(trx, { id: freshId(deps.clock), jobKey: `send-mail:${key}`, kind: "send-mail", payload: null, at }),
  );
}

/** When the next queued message is due, or one that was being sent when a program ended must be set aside. */
async function nextDue(deps: JobDeps): Promise<string | undefined> {
  const servers = deps.store.db.selectFrom("mailServer").select("accountId");
  const queued = await deps.store.db
    .selectFrom("mailItem")
    .select((build) => build.fn.min("stateAt").as("at"))
    .where("status", "=", "queued")
    // Without a mail server nothing is due: setting one asks again.
    .where("accountId", "in", servers)
    .executeTakeFirst();
  const sending = await deps.store.db
    .selectFrom("mailItem")
    .select((build) => build.fn.min("stateAt").as("at"))
    .where("status", "=", "sending")
    .executeTakeFirst();
  const now = deps.clock.now().getTime();
  const times = [
    ...(queued?.at ? [Math.max(Date.parse(queued.at), now + LEAST_WAIT_MS)] : []),
    ...(sending?.at ? [Math.max(Date.parse(sending.at) + 1000 * SENDING_LIMIT_S, now) + LEAST_WAIT_MS] : []),
  ];
  return times.length === 0 ? undefined : new Date(Math.min(...times)).toISOString();
}

/** A sender that is off for a reason of this machine is not asked in a tight circle. */
const LEAST_WAIT_MS = 5000;
