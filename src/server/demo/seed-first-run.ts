// On a first run with the demo: an owner without a password, who signs in by the printed address, and the invented group.
import { AccountWriter, eraseGroup } from "../../store/index.ts";
import { freshId, instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { seedDemoGroup } from "./seed-demo.ts";

const SEEDED = "demo-seeded";

/** Seeds once in the life of an installation: a removed demo stays removed. Answers whether it did. */
export async function seedDemo(deps: Deps): Promise<boolean> {
  const { store, clock } = deps;
  const before = await store.db
    .selectFrom("installation")
    .select("value")
    .where("name", "=", SEEDED)
    .executeTakeFirst();
  if (before !== undefined) return false;
  const owner = await store.write(async (trx) => {
    const writer = new AccountWriter(trx);
    const there = await writer.firstOwner();
    if (there !== undefined) return there;
    const account = {
      id: freshId(clock),
      signInName: "coach",
      displayName: "Coach",
      passwordHash: null,
      owner: 1,
      disabled: 0,
      createdAt: instant(clock),
    };
    await writer.put(account);
    return account;
  });
  // An earlier start may have been killed half way through: what it left is taken away first.
  const halves = await store.db.selectFrom("coachGroup").select("id").where("invented", "=", 1).execute();
  for (const { id } of halves) await store.write((trx) => eraseGroup(trx, id));
  await seedDemoGroup(deps, owner);
  await store.write((trx) =>
    trx
      .insertInto("installation")
      .values({ name: SEEDED, value: instant(clock) })
      .onConflict((conflict) => conflict.doNothing())
      .execute(),
  );
  return true;
}
