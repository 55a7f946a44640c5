// Messages on their way: none is lost, none goes out twice.
//
//   queued ──► sending ──► sent
//     ▲           ├──► queued     not taken this time (server busy or away): again later, a few times
//     │           ├──► failed     refused, or tried often enough: kept with its reason
//     │           └──► uncertain  handed over, but no answer came, or the program ended while sending
//     └── the coach says "send again" ── failed, uncertain
//
// Nothing leaves `uncertain` by itself: the message may have arrived. Its Message-ID stays the same for ever.
import { type Problem, type Result, fail, succeed } from "../../engine/quantities/problem.ts";
import { type MailDraft, type MailPreview, previewMail } from "./mail-message.ts";

export type MailState =
  | { readonly status: "queued"; readonly notBefore: string; readonly lastReason?: string }
  | { readonly status: "sending"; readonly since: string }
  | { readonly status: "sent"; readonly at: string; readonly reply: string }
  | { readonly status: "failed"; readonly at: string; readonly reason: string }
  | { readonly status: "uncertain"; readonly at: string; readonly reason: string };

export interface MailItem {
  readonly id: string;
  /** Asking twice with one key is asking once, for example "runner 12, session of 2026-03-04". */
  readonly key: string;
  readonly messageId: string;
  readonly message: Omit<MailPreview, "digest">;
  readonly createdAt: string;
  /** Times it was tried since the coach last said so. */
  readonly attempts: number;
  readonly state: MailState;
  /** Raised by the store at each replacement. */
  readonly version: number;
}

/** What the outbox needs of a database. Times are UTC ISO text, so they sort as text. */
export interface OutboxStore {
  /** Adds the item unless its key is known; durable when it resolves. Returns the item that the store then holds under the key. */
  add(item: MailItem): Promise<MailItem>;
  find(id: string): Promise<MailItem | undefined>;
  /** Queued items with notBefore ≤ now, oldest first. */
  due(now: string, limit: number): Promise<readonly MailItem[]>;
  /** Items in `sending` since before the given time. */
  sendingSince(before: string): Promise<readonly MailItem[]>;
  /** Stores the item with version + 1 if the stored version is still item.version; false otherwise. One atomic statement. */
  replace(item: MailItem): Promise<boolean>;
}

export type SendOutcome =
  | { readonly kind: "accepted"; readonly reply: string }
  /** Surely not taken, and worth another try. `away`: the server gave no answer, so others need not be tried now. */
  | { readonly kind: "not-now"; readonly reason: string; readonly away?: boolean }
  /** Surely not taken, and no use trying again unchanged. */
  | { readonly kind: "refused"; readonly reason: string }
  /** Handed over without an answer. */
  | { readonly kind: "unknown"; readonly reason: string };

export interface MailSender {
  readonly from: string;
  /** Never rejects and always ends: whatever happens is an outcome. `stopping` cuts the line. */
  send(item: Pick<MailItem, "messageId" | "message">, stopping?: AbortSignal): Promise<SendOutcome>;
}

export interface OutboxDeps {
  readonly store: OutboxStore;
  /** Absent until a coach has set up a mail server: then nothing can be queued. */
  readonly sender?: MailSender;
  readonly now: () => Date;
  readonly newId: () => string;
}

export interface Outbox {
  /** The message as it would go out. Sends and stores nothing. */
  preview(draft: MailDraft): Result<MailPreview>;
  /** Queues a message that was previewed: the digest must be that of its preview. */
  enqueue(draft: MailDraft, consent: { readonly key: string; readonly digest: string }): Promise<Result<MailItem>>;
  /**
   * Sends what is due, one after the other, until a server does not answer or `stopping`; returns how many were handled.
   * Safe to run in several processes at once.
   */
  sendDue(stopping?: AbortSignal): Promise<number>;
  /** A failed or uncertain message goes back to the queue, by the coach's word. */
  sendAgain(id: string): Promise<Result<MailItem>>;
}

/** Waits after the first, second … failed try; after the last the message is `failed`. */
const RETRY_AFTER_S = [60, 300, 1800, 7200, 21_600] as const;
/** Longer than a sender may take: an item still `sending` belongs to a process that has ended. */
export const SENDING_LIMIT_S = 900;
const BATCH = 50;

export function createOutbox({ store, sender, now, newId }: OutboxDeps): Outbox {
  const nowText = (plusS = 0): string => new Date(now().getTime() + 1000 * plusS).toISOString();

  const preview = (draft: MailDraft): Result<MailPreview> =>
    sender === undefined ? fail(MAIL_OFF) : previewMail(draft, sender.from);

  /** The item in its new state when it was still as we knew it, undefined when someone else moved it first. */
  const move = async (item: MailItem, state: MailState, attempts = item.attempts): Promise<MailItem | undefined> =>
    (await store.replace({ ...item, state, attempts }))
      ? { ...item, state, attempts, version: item.version + 1 }
      : undefined;

  async function sendOne(item: MailItem, by: MailSender, stopping?: AbortSignal): Promise<SendOutcome | undefined> {
    const claimed = await move(item, { status: "sending", since: nowText() }, item.attempts + 1);
    if (claimed === undefined) return undefined;
    const outcome = await by.send(claimed, stopping);
    // Stopped by our own end before anything was handed over: that was no try.
    if (outcome.kind === "not-now" && stopping?.aborted === true)
      await move(claimed, { status: "queued", notBefore: nowText() }, item.attempts);
    else await move(claimed, stateAfter(outcome, claimed.attempts, nowText));
    return outcome;
  }

  async function setStaleAside(): Promise<void> {
    for (const item of await store.sendingSince(nowText(-SENDING_LIMIT_S)))
      await move(item, {
        status: "uncertain",
        at: nowText(),
        reason: "The program ended while this message was being sent.",
      });
  }

  return {
    preview,
    async enqueue(draft, { key, digest }) {
      const shown = preview(draft);
      if (!shown.ok) return shown;
      if (shown.value.digest !== digest) return fail(NOT_PREVIEWED);
      const { from, to, subject, text } = shown.value;
      const id = newId();
      const item = await store.add({
        id,
        key,
        messageId: `<${id}@${from.slice(from.lastIndexOf("@") + 1)}>`,
        message: { from, to, subject, text },
        createdAt: nowText(),
        attempts: 0,
        state: { status: "queued", notBefore: nowText() },
        version: 0,
      });
      return succeed(item);
    },
    async sendDue(stopping) {
      await setStaleAside();
      if (sender === undefined) return 0;
      let handled = 0;
      for (const item of await store.due(nowText(), BATCH)) {
        if (stopping?.aborted === true) break;
        const outcome = await sendOne(item, sender, stopping);
        if (outcome !== undefined) handled += 1;
        if (outcome?.kind === "not-now" && outcome.away === true) break;
      }
      return handled;
    },
    async sendAgain(id) {
      const item = await store.find(id);
      if (item === undefined) return fail(problem("mail-unknown", id, "a message of the outbox", "Reload the list."));
      if (item.state.status !== "failed" && item.state.status !== "uncertain")
        return fail(problem("mail-not-stopped", item.state.status, "a failed or uncertain message", "Nothing to do."));
      const queued = await move(item, { status: "queued", notBefore: nowText() }, 0);
      return queued === undefined
        ? fail(problem("mail-moved", "changed meanwhile", "the message as it was shown", "Reload the list."))
        : succeed(queued);
    },
  };
}

function stateAfter(outcome: SendOutcome, attempts: number, nowText: (plusS?: number) => string): MailState {
  switch (outcome.kind) {
    case "accepted":
      return { status: "sent", at: nowText(), reply: outcome.reply };
    case "refused":
      return { status: "failed", at: nowText(), reason: outcome.reason };
    case "unknown":
      return { status: "uncertain", at: nowText(), reason: outcome.reason };
    case "not-now": {
      const waitS = RETRY_AFTER_S[attempts - 1];
      return waitS === undefined
        ? { status: "failed", at: nowText(), reason: outcome.reason }
        : { status: "queued", notBefore: nowText(waitS), lastReason: outcome.reason };
    }
  }
}

function problem(code: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: {}, got, expected, remedy };
}

const MAIL_OFF = problem(
  "mail-off",
  "no mail server",
  "a mail server in the settings",
  "Set up your mail server, or copy the text and send it yourself.",
);
const NOT_PREVIEWED = problem(
  "mail-not-previewed",
  "a message that differs from its preview",
  "the message as it was previewed",
  "Look at the preview again and send that.",
);
