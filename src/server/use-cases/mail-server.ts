// A coach's own mail server, as it is told and as it is set.
import type { MailServer, MailServerInput } from "../../api/index.ts";
import type { Problem } from "../../engine/quantities/problem.ts";
import { HandOutReader, type MailServerRow } from "../../store/index.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { unusable } from "../app/refusal.ts";
import { askToSend } from "../jobs/send-mail.ts";
import { passwordOf, secretBox } from "../mail/coach-mail.ts";
import { createSmtpSender } from "../mail/smtp-sender.ts";

const OFF: MailServer = {
  configured: false,
  host: "",
  port: 587,
  encryption: "starttls",
  user: null,
  from: "",
  hasPassword: false,
  passwordReadable: true,
};

export async function presentMailServer(deps: Deps, accountId: string): Promise<MailServer> {
  const row = await new HandOutReader(deps.store.db).mailServer(accountId);
  if (row === undefined) return OFF;
  return {
    configured: true,
    host: row.host,
    port: row.port,
    encryption: row.encryption,
    user: row.userName,
    from: row.fromAddress,
    hasPassword: row.sealedPassword !== null,
    passwordReadable: row.sealedPassword === null || passwordOf(deps, row) !== undefined,
  };
}

/** Refused when a password or a message would go out in the clear, or no sender is named. */
export async function setMailServer(deps: Deps, accountId: string, input: MailServerInput): Promise<void> {
  const { host, port, encryption, from } = input;
  const user = input.user === undefined || input.user === null || input.user.trim() === "" ? null : input.user.trim();
  const before = await new HandOutReader(deps.store.db).mailServer(accountId);
  // A stored password never goes to a server or a name that it was not typed for.
  const same = before !== undefined && before.host === host && before.userName === user;
  const sealedPassword =
    input.password === undefined && same
      ? before.sealedPassword
      : input.password === undefined || input.password === null || input.password === ""
        ? null
        : secretBox(deps).seal(input.password, accountId);
  const problems = serverProblems(input);
  if (user !== null && sealedPassword === null)
    problems.push(problem("mail-password", "password", "no password", "the password of this user", "Type it."));
  if (problems.length > 0) throw unusable("Mail cannot be sent like this.", problems);
  const row: MailServerRow = {
    accountId,
    host,
    port,
    encryption,
    userName: user,
    sealedPassword,
    fromAddress: from,
    changedAt: instant(deps.clock),
  };
  const { accountId: _, ...columns } = row;
  await deps.store.write((trx) =>
    trx
      .insertInto("mailServer")
      .values(row)
      .onConflict((conflict) => conflict.column("accountId").doUpdateSet(columns))
      .execute(),
  );
  await askToSend(deps, instant(deps.clock));
  deps.wakeJobs();
}

export async function forgetMailServer(deps: Deps, accountId: string): Promise<void> {
  await deps.store.write((trx) => trx.deleteFrom("mailServer").where("accountId", "=", accountId).execute());
}

function serverProblems({ host, port, encryption, from }: MailServerInput): Problem[] {
  try {
    createSmtpSender({ host, port, encryption, from });
    return [];
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return error.message.includes("from")
      ? [problem("mail-address", "from", from, "one e-mail address like name@example.org", "Correct your address.")]
      : [
          problem(
            "mail-in-the-clear",
            "encryption",
            encryption,
            "TLS, unless the server is this machine",
            "Choose TLS or STARTTLS.",
          ),
        ];
  }
}

function problem(code: string, field: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: { field }, got, expected, remedy };
}
