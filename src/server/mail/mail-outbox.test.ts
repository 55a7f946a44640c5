import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createMemoryOutbox } from "../../../tests/outbox-store.ts";
import { type MailSender, type Outbox, type SendOutcome, createOutbox } from "./mail-outbox.ts";

const DRAFT = { to: "mara@example.org", subject: "Your session", text: "Wednesday: 172 spm." };
const KEY = "runner 12, session of 2026-03-04";

function bench(answer: (attempt: number) => SendOutcome | Promise<SendOutcome>) {
  const store = createMemoryOutbox();
  let time = Date.parse("2026-03-04T12:00:00Z");
  let id = 0;
  const sent: string[] = [];
  const sender: MailSender = {
    from: "coach@example.org",
    send: async (item) => {
      sent.push(item.messageId);
      return await answer(sent.length);
    },
  };
  const deps = { store, now: () => new Date(time), newId: () => `m${(id += 1)}` };
  return {
    store,
    sent,
    outbox: createOutbox({ ...deps, sender }),
    off: createOutbox(deps),
    wait: (seconds: number) => void (time += 1000 * seconds),
    state: () => store.all()[0]?.state,
  };
}

async function queue(outbox: Outbox, draft = DRAFT, key = KEY): Promise<void> {
  const preview = outbox.preview(draft);
  if (!preview.ok) throw new Error("no preview");
  const queued = await outbox.enqueue(draft, { key, digest: preview.value.digest });
  expect(queued.ok).toBe(true);
}

const accepted: SendOutcome = { kind: "accepted", reply: "250 taken" };
const busy: SendOutcome = { kind: "not-now", reason: "451 busy" };

describe("outbox", () => {
  it("sends a message once and keeps the server's word for it", async () => {
    const { outbox, sent, state } = bench(() => accepted);
    await queue(outbox);
    expect(sent).toEqual([]);
    expect(await outbox.sendDue()).toBe(1);
    expect(await outbox.sendDue()).toBe(0);
    expect(sent).toEqual(["<m1@example.org>"]);
    expect(state()).toMatchObject({ status: "sent", reply: "250 taken" });
  });

  it("the same key queues once, also after it was sent", async () => {
    const { outbox, sent, store } = bench(() => accepted);
    await queue(outbox);
    await queue(outbox);
    await outbox.sendDue();
    await queue(outbox);
    await outbox.sendDue();
    expect(store.all().length).toBe(1);
    expect(sent.length).toBe(1);
  });

  it("is off until a mail server is set up", async () => {
    const { off, store } = bench(() => accepted);
    const preview = off.preview(DRAFT);
    const queued = await off.enqueue(DRAFT, { key: KEY, digest: "" });
    expect([preview, queued].map((result) => (result.ok ? "" : result.problems[0]!.code))).toEqual([
      "mail-off",
      "mail-off",
    ]);
    expect(await off.sendDue()).toBe(0);
    expect(store.all()).toEqual([]);
  });

  it("queues only what was previewed, to the letter", async () => {
    const { outbox, store } = bench(() => accepted);
    const preview = outbox.preview(DRAFT);
    if (!preview.ok) throw new Error("no preview");
    for (const change of [{ to: "other@example.org" }, { subject: "Else" }, { text: "Wednesday: 173 spm." }]) {
      const queued = await outbox.enqueue({ ...DRAFT, ...change }, { key: KEY, digest: preview.value.digest });
      expect(queued.ok ? "" : queued.problems[0]!.code).toBe("mail-not-previewed");
    }
    expect(store.all()).toEqual([]);
  });

  it("tries again later, with the same Message-ID, and gives up loudly", async () => {
    const { outbox, sent, wait, state } = bench(() => busy);
    await queue(outbox);
    await outbox.sendDue();
    expect(state()).toMatchObject({ status: "queued", lastReason: "451 busy" });
    expect(await outbox.sendDue()).toBe(0);
    for (let tries = 0; tries < 10; tries += 1) {
      wait(86_400);
      await outbox.sendDue();
    }
    expect(sent).toEqual(Array.from({ length: 6 }, () => "<m1@example.org>"));
    expect(state()).toMatchObject({ status: "failed", reason: "451 busy" });
  });

  it("a refusal is final until the coach says send again", async () => {
    const { outbox, wait, state } = bench((attempt) =>
      attempt === 1 ? { kind: "refused", reason: "550 no such user" } : accepted,
    );
    await queue(outbox);
    await outbox.sendDue();
    wait(86_400);
    expect(await outbox.sendDue()).toBe(0);
    expect(state()).toMatchObject({ status: "failed", reason: "550 no such user" });
    expect((await outbox.sendAgain("m1")).ok).toBe(true);
    await outbox.sendDue();
    expect(state()).toMatchObject({ status: "sent" });
    const again = await outbox.sendAgain("m1");
    expect(again.ok ? "" : again.problems[0]!.code).toBe("mail-not-stopped");
  });

  it("a message whose fate is unknown is never sent again by itself", async () => {
    const { outbox, sent, wait, state } = bench(() => ({ kind: "unknown", reason: "connection lost" }));
    await queue(outbox);
    await outbox.sendDue();
    for (let day = 0; day < 5; day += 1) {
      wait(86_400);
      await outbox.sendDue();
    }
    expect(sent.length).toBe(1);
    expect(state()).toMatchObject({ status: "uncertain" });
  });

  it("a program that ends while sending leaves an uncertain message, not a second copy and not a lost one", async () => {
    const { outbox, sent, wait, state } = bench(() => new Promise<SendOutcome>(() => undefined));
    await queue(outbox);
    void outbox.sendDue();
    await new Promise((resolve) => setTimeout(resolve, 0));
    expect(state()).toMatchObject({ status: "sending" });
    wait(899);
    await outbox.sendDue();
    expect(state()).toMatchObject({ status: "sending" });
    wait(2);
    await outbox.sendDue();
    expect(state()).toMatchObject({ status: "uncertain" });
    expect(sent.length).toBe(1);
  });

  it("property: several processes at work and any answers: never two hand-overs that could both arrive, nothing lost", async () => {
    const answer = fc.constantFrom<SendOutcome>(
      accepted,
      busy,
      { kind: "refused", reason: "550" },
      { kind: "unknown", reason: "lost" },
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(answer, { minLength: 30, maxLength: 30 }),
        fc.integer({ min: 1, max: 6 }),
        async (answers, messages) => {
          const delivered = new Map<string, number>();
          const store = createMemoryOutbox();
          let time = 0;
          let id = 0;
          let next = 0;
          const sender: MailSender = {
            from: "coach@example.org",
            async send({ messageId }) {
              const outcome = answers[next % answers.length]!;
              next += 1;
              await new Promise((resolve) => setImmediate(resolve));
              if (outcome.kind === "accepted" || outcome.kind === "unknown")
                delivered.set(messageId, (delivered.get(messageId) ?? 0) + 1);
              return outcome;
            },
          };
          const processes = Array.from({ length: 3 }, () =>
            createOutbox({ store, sender, now: () => new Date(time), newId: () => `m${(id += 1)}` }),
          );
          for (let index = 0; index < messages; index += 1) await queue(processes[index % 3]!, DRAFT, `key ${index}`);
          for (let round = 0; round < 8; round += 1) {
            await Promise.all(processes.map((process) => process.sendDue()));
            time += 86_400_000;
          }
          const items = store.all();
          expect(items.length).toBe(messages);
          for (const { messageId, state } of items) {
            const copies = delivered.get(messageId) ?? 0;
            expect(copies).toBe(state.status === "sent" || state.status === "uncertain" ? 1 : 0);
            expect(["sent", "failed", "uncertain"]).toContain(state.status);
          }
        },
      ),
      { seed: 20_261_125, numRuns: 60 },
    );
  });
});

describe("what cannot be sent", () => {
  const { outbox } = bench(() => accepted);

  it.each([
    ["to", "mail-address", "mara@example.org\r\nBcc: all@example.org"],
    ["to", "mail-address", "mara@example.org, other@example.org"],
    ["to", "mail-address", "Mara <mara@example.org>"],
    ["to", "mail-address", "mara"],
    ["to", "mail-address", `${"a".repeat(250)}@example.org`],
    ["subject", "mail-subject", "Hello\r\nBcc: all@example.org"],
    ["subject", "mail-subject", "Hello\u2028there\u0000"],
    ["subject", "mail-subject", " "],
    ["text", "mail-text", ""],
    ["text", "mail-text", "x".repeat(100_001)],
  ])("%s: %s for %j", (field, code, value) => {
    const preview = outbox.preview({ ...DRAFT, [field]: value });
    expect(preview.ok ? [] : preview.problems.map((problem) => [problem.code, problem.where.field])).toEqual([
      [code, field],
    ]);
  });
});
