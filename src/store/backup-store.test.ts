// One kind of backup for both databases: a moment of a store that is written to, checked, and put back anywhere.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { group, runner, tracked } from "../../tests/store-rows.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import { backupFault, backupStore, countTables, RecordingWriter, restoreInto, type Store } from "./index.ts";

describe.each(storeVariants)("backups of $name", (variant) => {
  let store: Store;
  let close: () => Promise<void>;
  let folder: string;
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), "spondee-backup-"));
    ({ store, close } = await variant.open());
    await tracked(store, "c0", (write) => write.put("coachGroup", group));
  });
  afterEach(async () => {
    await close();
    rmSync(folder, { recursive: true, force: true });
  });

  test("a copy made while others write is one moment: each change has its row, and all of it comes back", async () => {
    await store.write((trx) =>
      new RecordingWriter(trx).putBytes(
        "x",
        Array.from({ length: 30 }, (_, byte) => Uint8Array.of(byte, 255 - byte)),
      ),
    );
    for (let index = 0; index < 450; index += 1)
      if (index % 50 === 0)
        await tracked(store, `first-${index}`, async (write) => {
          for (let one = index; one < index + 50; one += 1) await write.put("runner", runner(`a${one}`, `A${one}`));
        });
    let writing = true;
    const writer = (async () => {
      for (let index = 0; writing && index < 500; index += 1) {
        await tracked(store, `w${index}`, (write) => write.put("runner", runner(`b${index}`, `B${index}`)));
        await new Promise((resolve) => setImmediate(resolve));
      }
    })();
    const file = join(folder, "b", "copy.sqlite");
    const made = await backupStore(store, file);
    writing = false;
    await writer;
    expect(made.byteCount).toBeGreaterThan(4096);
    expect(readdirSync(join(folder, "b"))).toEqual(["copy.sqlite"]);
    expect(backupFault(file)).toBeNull();
    const target = await variant.open();
    const counts = await restoreInto(file, target.store);
    expect(counts).toEqual(await countTables(target.store));
    expect(counts["recordingChunk"]).toBe(30);
    expect(counts["runner"]).toBeGreaterThanOrEqual(450);
    expect(counts["changeRow"]).toBe((counts["runner"] ?? 0) + 1);
    const firstRows = (of: Store) =>
      of.db.selectFrom("runner").selectAll().where("id", "like", "a%").orderBy("id").execute();
    expect(await firstRows(target.store)).toEqual(await firstRows(store));
    await expect(restoreInto(file, target.store)).rejects.toThrow("already holds data");
    await target.close();
    // Nothing lies about beside it.
    expect(readdirSync(join(folder, "b"))).toEqual(["copy.sqlite"]);
  });

  test("a damaged copy is refused with its faults, one a line, and the target stays empty", async () => {
    const file = join(folder, "copy.sqlite");
    await tracked(store, "c1", async (write) => {
      for (let index = 0; index < 200; index += 1) await write.put("runner", runner(`r${index}`, `N${index}`));
    });
    await backupStore(store, file);
    const bytes = readFileSync(file);
    // Whole pages of rows go, the first with the schema stays.
    for (let page = 20; page < bytes.length / 4096 - 1; page += 3) bytes.fill(0xa5, page * 4096, page * 4096 + 2000);
    writeFileSync(file, bytes);
    const target = await variant.open();
    const error = await restoreInto(file, target.store).catch((caught: unknown) => caught);
    expect(String(error)).toMatch(/is damaged:\n.+\n.+|not a Spondee backup/);
    expect(Object.values(await countTables(target.store)).every((count) => count === 0)).toBe(true);
    await target.close();
  });
});
