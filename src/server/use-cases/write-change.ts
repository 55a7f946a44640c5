// Every write of the desk and the phone page that can be undone goes through here: one transaction, one change.
import { type AccountRow, TrackedWrite } from "../../store/index.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";

export interface Author {
  readonly groupId: string;
  /** null: the runner, from the phone page, or the program itself. */
  readonly account: Pick<AccountRow, "id" | "displayName"> | null;
  readonly byName?: string;
}

export interface Written<T> {
  readonly value: T;
  readonly changeId: string | null;
}

export async function writeChange<T>(
  deps: Deps,
  author: Author,
  what: string,
  work: (write: TrackedWrite) => Promise<T>,
  undoOf?: string,
): Promise<Written<T>> {
  const changeId = freshId(deps.clock);
  const at = instant(deps.clock);
  return deps.store.write(async (trx) => {
    const write = new TrackedWrite(trx, {
      changeId,
      groupId: author.groupId,
      at,
      byAccountId: author.account?.id ?? null,
      byName: author.account?.displayName ?? author.byName ?? "the runner",
      what,
      ...(undoOf === undefined ? {} : { undoOf }),
    });
    const value = await work(write);
    return { value, changeId: await write.finish() };
  });
}
