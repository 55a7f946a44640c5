import { type MailItem, type OutboxStore } from "../src/server/mail/mail-outbox.ts";

/** An outbox in memory; hands out copies, as a database does. */
export function createMemoryOutbox(): OutboxStore & { all(): MailItem[] } {
  const items = new Map<string, MailItem>();
  const copy = (item: MailItem): MailItem => structuredClone(item);
  const inState = <Status extends string>(status: Status): MailItem[] =>
    [...items.values()].filter(({ state }) => state.status === status).map(copy);
  return {
    all: () => [...items.values()].map(copy),
    async add(item) {
      const known = [...items.values()].find(({ key }) => key === item.key);
      if (known === undefined) items.set(item.id, copy(item));
      return await Promise.resolve(copy(known ?? item));
    },
    async find(id) {
      const item = items.get(id);
      return await Promise.resolve(item === undefined ? undefined : copy(item));
    },
    async due(now, limit) {
      const due = inState("queued").filter(({ state }) => state.status === "queued" && state.notBefore <= now);
      return await Promise.resolve(due.slice(0, limit));
    },
    async sendingSince(before) {
      const stale = inState("sending").filter(({ state }) => state.status === "sending" && state.since < before);
      return await Promise.resolve(stale);
    },
    async replace(item) {
      if (items.get(item.id)?.version !== item.version) return await Promise.resolve(false);
      items.set(item.id, copy({ ...item, version: item.version + 1 }));
      return true;
    },
  };
}
