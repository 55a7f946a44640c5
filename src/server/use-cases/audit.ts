// That something happened, by whom and about what id. Kept when the person is deleted; holds no name and no number.
import type { Writing } from "../../store/index.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";

export type AuditEvent =
  | "signed-in"
  | "signed-in-by-code"
  | "set-up"
  | "password-changed"
  | "account-changed"
  | "runner-deleted"
  | "runner-deleted-themselves"
  | "recording-erased-by-runner"
  | "group-deleted"
  | "runner-exported"
  | "runner-exported-themselves"
  | "group-exported"
  | "link-made"
  | "link-revoked"
  | "feed-made"
  | "feed-revoked"
  | "backup-made";

export async function audit(
  deps: Deps,
  trx: Writing,
  what: AuditEvent,
  about: { readonly byAccountId?: string; readonly groupId?: string; readonly runnerId?: string },
): Promise<void> {
  await trx
    .insertInto("audit")
    .values({
      id: freshId(deps.clock),
      at: instant(deps.clock),
      byAccountId: about.byAccountId ?? null,
      what,
      groupId: about.groupId ?? null,
      runnerId: about.runnerId ?? null,
    })
    .execute();
}
