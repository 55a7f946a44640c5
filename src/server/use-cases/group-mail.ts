// Messages to the runners of a group: preview, queue, list. Nothing goes out that was not previewed.
import type { CallInput, MailItem as MailItemShape } from "../../api/index.ts";
import type { Problem } from "../../engine/quantities/problem.ts";
import { HandOutReader, type MailItemRow, RunnerReader } from "../../store/index.ts";
import type { MemberOf } from "../app/call.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { notFound, Refusal, unusable } from "../app/refusal.ts";
import { askToSend } from "../jobs/send-mail.ts";
import { outboxOf } from "../mail/coach-mail.ts";
import { isMailAddress } from "../mail/mail-message.ts";
import { itemOf, timeOf } from "../mail/sql-outbox.ts";
import { writeChange } from "./write-change.ts";

type Drafts = CallInput<"POST /api/groups/:groupId/mail/preview">["body"]["drafts"];
type Wish = CallInput<"POST /api/groups/:groupId/mail">["body"];

const NEWEST = 300;

async function peopleOf(deps: Deps, groupId: string) {
  const rows = await new RunnerReader(deps.store.db).ofGroup(groupId);
  const addresses = await new HandOutReader(deps.store.db).addresses(groupId);
  return new Map(rows.map((row) => [row.id, { name: row.name, address: addresses.get(row.id) }]));
}

export async function previewMessages(deps: Deps, caller: MemberOf, drafts: Drafts) {
  const people = await peopleOf(deps, caller.groupId);
  const outbox = await outboxOf(deps, { accountId: caller.account.id });
  return {
    items: drafts.map(({ runnerId, subject, text }) => {
      const person = people.get(runnerId);
      if (person === undefined) throw notFound("runner in this group");
      const to = person.address ?? "";
      const shown = outbox.preview({ to, subject, text });
      return {
        runnerId,
        name: person.name,
        to,
        subject,
        text,
        from: shown.ok ? shown.value.from : "",
        digest: shown.ok ? shown.value.digest : "",
        problems: shown.ok ? [] : plainProblems(person.address === undefined ? [NO_ADDRESS] : shown.problems),
      };
    }),
  };
}

export async function queueMessages(deps: Deps, caller: MemberOf, { weekOn, messages }: Wish) {
  const people = await peopleOf(deps, caller.groupId);
  const queued: string[] = [];
  const refused: { runnerId: string; problems: ReturnType<typeof plainProblems> }[] = [];
  for (const { runnerId, subject, text, digest } of messages) {
    const person = people.get(runnerId);
    if (person === undefined) throw notFound("runner in this group");
    const outbox = await outboxOf(deps, { accountId: caller.account.id, groupId: caller.groupId, runnerId });
    const to = person.address ?? "";
    // The same text to the same runner in the same week is one message, however often it is asked for.
    const outcome = await outbox.enqueue({ to, subject, text }, { key: `${runnerId}/${weekOn}/${digest}`, digest });
    if (outcome.ok) queued.push(outcome.value.id);
    else
      refused.push({
        runnerId,
        problems: plainProblems(person.address === undefined ? [NO_ADDRESS] : outcome.problems),
      });
  }
  if (queued.length > 0) {
    await askToSend(deps, instant(deps.clock));
    deps.wakeJobs();
  }
  return { queued, refused };
}

export async function listMail(deps: Deps, caller: MemberOf) {
  const people = await peopleOf(deps, caller.groupId);
  const rows = await new HandOutReader(deps.store.db).mail(caller.groupId, NEWEST);
  return { items: rows.map((row) => presentMail(row, people.get(row.runnerId)?.name ?? "", caller.account.id)) };
}

export async function sendMailAgain(deps: Deps, caller: MemberOf, mailId: string) {
  const reader = new HandOutReader(deps.store.db);
  const row = await reader.mailItem(mailId);
  if (row === undefined || row.groupId !== caller.groupId) throw notFound("message");
  if (row.accountId !== caller.account.id)
    throw new Refusal(409, "not-your-message", "Another coach queued it: it goes through their mail server.");
  const outcome = await (await outboxOf(deps, { accountId: caller.account.id })).sendAgain(mailId);
  if (!outcome.ok) throw unusable("This message cannot be sent again.", outcome.problems);
  await askToSend(deps, instant(deps.clock));
  deps.wakeJobs();
  const people = await peopleOf(deps, caller.groupId);
  const again = (await reader.mailItem(mailId)) ?? row;
  return { item: presentMail(again, people.get(row.runnerId)?.name ?? "", caller.account.id) };
}

export async function setAddresses(
  deps: Deps,
  caller: MemberOf,
  addresses: readonly { readonly runnerId: string; readonly address: string | null }[],
) {
  const people = await peopleOf(deps, caller.groupId);
  if (addresses.some(({ runnerId }) => !people.has(runnerId))) throw notFound("runner in this group");
  const wrong = addresses.filter(({ address }) => address !== null && !isMailAddress(address));
  if (wrong.length > 0)
    throw unusable(
      "Some addresses cannot be right.",
      wrong.map(({ runnerId, address }) => ({
        code: "mail-address",
        where: { field: people.get(runnerId)?.name ?? runnerId },
        got: address ?? "",
        expected: "one e-mail address like name@example.org",
        remedy: "Correct the address.",
      })),
    );
  const { changeId } = await writeChange(deps, caller, "e-mail addresses changed", async (write) => {
    for (const { runnerId, address } of addresses)
      if (address === null) await write.remove("mailAddress", runnerId);
      else await write.put("mailAddress", { id: runnerId, runnerId, address });
  });
  return { items: await listAddresses(deps, caller.groupId), changeId };
}

export async function listAddresses(deps: Deps, groupId: string) {
  const rows = await new HandOutReader(deps.store.db).addresses(groupId);
  return [...rows].map(([runnerId, address]) => ({ runnerId, address }));
}

function presentMail(row: MailItemRow, name: string, accountId: string): MailItemShape {
  const { id, message, createdAt, attempts, state } = itemOf(row);
  return {
    id,
    runnerId: row.runnerId,
    name,
    to: message.to,
    subject: message.subject,
    text: message.text,
    createdAt,
    attempts,
    status: state.status,
    at: timeOf(state),
    reason: state.status === "queued" ? (state.lastReason ?? "") : "reason" in state ? state.reason : "",
    own: row.accountId === accountId,
  };
}

function plainProblems(problems: readonly Problem[]) {
  return problems.map((entry) => ({ ...entry, where: { ...entry.where } }));
}

const NO_ADDRESS: Problem = {
  code: "mail-no-address",
  where: { field: "to" },
  got: "no address",
  expected: "an e-mail address",
  remedy: "Enter the runner's address, or copy the text and send it another way.",
};
