// Small things that several routes need.
import { Refusal } from "../app/refusal.ts";

/** An id that exists under another runner is never written over. */
export async function assertOwn(row: Promise<{ runnerId: string } | undefined>, runnerId: string): Promise<void> {
  const found = await row;
  if (found !== undefined && found.runnerId !== runnerId)
    throw new Refusal(409, "id-taken", "That id is in use elsewhere.");
}

export function pageOf(query: { readonly limit?: number; readonly after?: string }) {
  return { limit: query.limit ?? 100, ...(query.after === undefined ? {} : { after: query.after }) };
}
