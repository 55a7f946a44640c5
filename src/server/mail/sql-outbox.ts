// The outbox in the database: one statement for each operation, so that two servers cannot take the same message.
import type { MailItemRow, Store } from "../../store/index.ts";
import type { MailItem, MailState, OutboxStore } from "./mail-outbox.ts";

export interface OutboxOwner {
  /** Whose mail server sends. */
  readonly accountId: string;
  /** For messages added; not needed for sending. */
  readonly groupId?: string;
  readonly runnerId?: string;
}

export function createSqlOutbox(store: Pick<Store, "db" | "write">, owner: OutboxOwner): OutboxStore {
  const { db } = store;
  const inState = (status: MailItemRow["status"]) =>
    db.selectFrom("mailItem").selectAll().where("accountId", "=", owner.accountId).where("status", "=", status);
  return {
    async add(item) {
      const { groupId, runnerId } = owner;
      if (groupId === undefined || runnerId === undefined)
        throw new TypeError("createSqlOutbox: adding needs the group and the runner");
      return store.write(async (trx) => {
        await trx
          .insertInto("mailItem")
          .values({
            id: item.id,
            mailKey: item.key,
            accountId: owner.accountId,
            groupId,
            runnerId,
            messageId: item.messageId,
            messageJson: JSON.stringify(item.message),
            createdAt: item.createdAt,
            attempts: item.attempts,
            version: item.version,
            ...stateColumns(item.state),
          })
          .onConflict((conflict) => conflict.column("mailKey").doNothing())
          .execute();
        const row = await trx
          .selectFrom("mailItem")
          .selectAll()
          .where("mailKey", "=", item.key)
          .executeTakeFirstOrThrow();
        return itemOf(row);
      });
    },
    async find(id) {
      const row = await db
        .selectFrom("mailItem")
        .selectAll()
        .where("id", "=", id)
        .where("accountId", "=", owner.accountId)
        .executeTakeFirst();
      return row === undefined ? undefined : itemOf(row);
    },
    async due(now, limit) {
      const rows = await inState("queued")
        .where("stateAt", "<=", now)
        .orderBy("createdAt")
        .orderBy("id")
        .limit(limit)
        .execute();
      return rows.map(itemOf);
    },
    async sendingSince(before) {
      return (await inState("sending").where("stateAt", "<", before).execute()).map(itemOf);
    },
    async replace(item) {
      const { numUpdatedRows } = await store.write((trx) =>
        trx
          .updateTable("mailItem")
          .set({ attempts: item.attempts, version: item.version + 1, ...stateColumns(item.state) })
          .where("id", "=", item.id)
          .where("version", "=", item.version)
          .executeTakeFirst(),
      );
      return numUpdatedRows === 1n;
    },
  };
}

export function itemOf(row: MailItemRow): MailItem {
  return {
    id: row.id,
    key: row.mailKey,
    messageId: row.messageId,
    message: JSON.parse(row.messageJson) as MailItem["message"],
    createdAt: row.createdAt,
    attempts: row.attempts,
    state: JSON.parse(row.stateJson) as MailState,
    version: row.version,
  };
}

function stateColumns(state: MailState): Pick<MailItemRow, "status" | "stateAt" | "stateJson"> {
  return { status: state.status, stateAt: timeOf(state), stateJson: JSON.stringify(state) };
}

export function timeOf(state: MailState): string {
  switch (state.status) {
    case "queued":
      return state.notBefore;
    case "sending":
      return state.since;
    case "sent":
    case "failed":
    case "uncertain":
      return state.at;
  }
}
