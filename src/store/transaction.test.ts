// Transactions that race: none is lost, and a long one is not kept from ending by a stream of short ones.
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { storeVariants } from "../../tests/store-variants.ts";
import type { Store, Writing } from "./index.ts";

describe.each(storeVariants)("racing transactions on $name", (variant) => {
  let store: Store;
  let close: () => Promise<void>;
  beforeEach(async () => {
    ({ store, close } = await variant.open());
    await store.db.insertInto("installation").values({ name: "n", value: "0" }).execute();
  });
  afterEach(() => close());

  const read = async (trx: Writing): Promise<number> =>
    Number((await trx.selectFrom("installation").select("value").where("name", "=", "n").executeTakeFirst())?.value);
  const write = (trx: Writing, value: number) =>
    trx
      .updateTable("installation")
      .set({ value: String(value) })
      .where("name", "=", "n")
      .execute();
  const add = (by: number, betweenMs = 0) =>
    store.write(async (trx) => {
      const value = await read(trx);
      if (betweenMs > 0) await new Promise((resolve) => setTimeout(resolve, betweenMs));
      await write(trx, value + by);
    });

  test("read and written back by many at once, nothing is lost", async () => {
    await Promise.all(Array.from({ length: 24 }, () => add(1)));
    expect(await store.write(read)).toBe(24);
  });

  test("a long one gets through a stream of short ones that never ends by itself", async () => {
    let ended = false;
    let short = 0;
    const stream = Array.from({ length: 3 }, async () => {
      while (!ended) {
        await add(1);
        short += 1;
      }
    });
    await add(1_000_000, 60).finally(() => (ended = true));
    await Promise.all(stream);
    expect(await store.write(read)).toBe(1_000_000 + short);
    expect(short).toBeGreaterThan(0);
  });

  test("what the work throws comes out, and nothing of it stays", async () => {
    await expect(
      store.write(async (trx) => {
        await write(trx, 7);
        throw new RangeError("no");
      }),
    ).rejects.toThrow(RangeError);
    expect(await store.write(read)).toBe(0);
  });
});
