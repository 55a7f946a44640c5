// A coach's own mail server: off until it is set, its password sealed, and the outbox that sends through it.
import { HandOutReader, type MailServerRow } from "../../store/index.ts";
import { freshId } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { createOutbox, type MailSender, type Outbox } from "./mail-outbox.ts";
import { createSecretBox } from "./sealed-secret.ts";
import { createSmtpSender } from "./smtp-sender.ts";
import { createSqlOutbox, type OutboxOwner } from "./sql-outbox.ts";

type MailDeps = Pick<Deps, "store" | "clock" | "settings">;

export function secretBox(deps: MailDeps) {
  return createSecretBox(deps.settings.dataDir, deps.settings.mailKey);
}

/** The password in the clear; undefined when there is none, or it cannot be opened here. */
export function passwordOf(deps: MailDeps, row: MailServerRow): string | undefined {
  return row.sealedPassword === null ? undefined : secretBox(deps).open(row.sealedPassword, row.accountId);
}

/** undefined while mail is off: nothing set, or a password that this machine cannot read. */
export async function senderOf(deps: MailDeps, accountId: string): Promise<MailSender | undefined> {
  const row = await new HandOutReader(deps.store.db).mailServer(accountId);
  if (row === undefined) return undefined;
  const password = passwordOf(deps, row);
  if (row.sealedPassword !== null && password === undefined) return undefined;
  return createSmtpSender({
    host: row.host,
    port: row.port,
    encryption: row.encryption,
    from: row.fromAddress,
    ...(row.userName === null ? {} : { user: row.userName }),
    ...(password === undefined ? {} : { password }),
  });
}

export async function outboxOf(deps: MailDeps, owner: OutboxOwner): Promise<Outbox> {
  const sender = await senderOf(deps, owner.accountId);
  return createOutbox({
    store: createSqlOutbox(deps.store, owner),
    ...(sender === undefined ? {} : { sender }),
    now: () => deps.clock.now(),
    newId: () => freshId(deps.clock),
  });
}

/** Accounts served at a time: one mail server that hangs holds up its own coach's messages. */
const ACCOUNTS_AT_ONCE = 4;

/** Sends what is due of everyone's outbox; how many were handled. Safe to run in several processes at once. */
export async function sendDueMail(deps: MailDeps, stopping?: AbortSignal): Promise<number> {
  const accounts = await deps.store.db
    .selectFrom("mailItem")
    .select("accountId")
    .distinct()
    .where("status", "in", ["queued", "sending"])
    .execute();
  let handled = 0;
  const waiting = accounts.values();
  const serve = async (): Promise<void> => {
    for (const { accountId } of waiting) {
      const outbox = await outboxOf(deps, { accountId });
      handled += await outbox.sendDue(stopping);
    }
  };
  await Promise.all(Array.from({ length: ACCOUNTS_AT_ONCE }, serve));
  return handled;
}
