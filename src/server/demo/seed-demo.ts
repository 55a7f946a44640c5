import type { AccountRow } from "../../store/index.ts";
import type { Deps } from "../app/deps.ts";
export async function seedDemoGroup(_deps: Deps, _account: Pick<AccountRow, "id" | "displayName">): Promise<string> {
  return Promise.reject(new Error("later"));
}
