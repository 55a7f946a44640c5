import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { account, group, runner } from "../../../tests/store-rows.ts";
import { storeVariants } from "../../../tests/store-variants.ts";
import type { Store } from "../../store/index.ts";
import { createOutbox, type MailItem, type MailSender } from "./mail-outbox.ts";
import { createSqlOutbox } from "./sql-outbox.ts";

const at = "2026-03-05T12:00:00.000Z";
const item = (id: string, changes: Partial<MailItem> = {}): MailItem => ({
  id,
  key: `key ${id}`,
  messageId: `<${id}@example.org>`,
  message: { from: "coach@example.org", to: "runner@example.org", subject: "Week", text: "Easy." },
  createdAt: at,
  attempts: 0,
  state: { status: "queued", notBefore: at },
  version: 0,
  ...changes,
});

describe.each(storeVariants)("the outbox in $name", (variant) => {
  let store: Store;
  let close: () => Promise<void>;
  beforeEach(async () => {
    ({ store, close } = await variant.open());
    await store.db
      .insertInto("account")
      .values([account("a1"), account("a2")])
      .execute();
    await store.db.insertInto("coachGroup").values(group).execute();
    await store.db.insertInto("runner").values(runner("r1", "R")).execute();
  });
  afterEach(() => close());
  const outbox = (accountId = "a1") => createSqlOutbox(store, { accountId, groupId: "g1", runnerId: "r1" });

  it("keeps the first item of a key and hands it back", async () => {
    const first = await outbox().add(item("m1", { key: "one" }));
    expect(first).toEqual(item("m1", { key: "one" }));
    expect((await outbox().add(item("m2", { key: "one" }))).id).toBe("m1");
    expect(await outbox().find("m2")).toBeUndefined();
  });

  it("replaces only the version it was shown, once", async () => {
    await outbox().add(item("m1"));
    const sending = item("m1", { state: { status: "sending", since: at }, attempts: 1 });
    const answers = await Promise.all([outbox().replace(sending), outbox().replace(sending)]);
    expect(answers.filter(Boolean)).toHaveLength(1);
    expect(await outbox().find("m1")).toMatchObject({ version: 1, attempts: 1, state: { status: "sending" } });
    expect(await outbox().replace(item("m1", { version: 0 }))).toBe(false);
  });

  it("gives what is due, oldest first, of its own account; and what has been sending since", async () => {
    await outbox().add(item("late", { state: { status: "queued", notBefore: "2026-03-05T13:00:00.000Z" } }));
    await outbox().add(item("second", { createdAt: "2026-03-05T11:00:00.000Z" }));
    await outbox().add(item("first", { createdAt: "2026-03-05T10:00:00.000Z" }));
    await outbox("a2").add(item("theirs"));
    await outbox().add(item("stuck", { state: { status: "sending", since: "2026-03-05T09:00:00.000Z" } }));
    expect((await outbox().due(at, 10)).map(({ id }) => id)).toEqual(["first", "second"]);
    expect((await outbox().due(at, 1)).map(({ id }) => id)).toEqual(["first"]);
    expect((await outbox().sendingSince(at)).map(({ id }) => id)).toEqual(["stuck"]);
    expect(await outbox().sendingSince("2026-03-05T09:00:00.000Z")).toEqual([]);
    expect(await outbox().find("theirs")).toBeUndefined();
  });

  it("two programs at once send a message once", async () => {
    const sent: string[] = [];
    const sender: MailSender = {
      from: "coach@example.org",
      send: async ({ messageId }) => {
        sent.push(messageId);
        await new Promise((resolve) => setTimeout(resolve, 5));
        return { kind: "accepted", reply: "250" };
      },
    };
    for (let index = 0; index < 12; index += 1) await outbox().add(item(`m${index}`));
    const program = () =>
      createOutbox({ store: outbox(), sender, now: () => new Date(at), newId: () => "unused" }).sendDue();
    await Promise.all([program(), program(), program()]);
    expect(sent).toHaveLength(12);
    expect(new Set(sent).size).toBe(12);
  });
});
