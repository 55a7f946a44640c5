import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createRandom } from "../engine/quantities/random.ts";
import { backupFault, BackupError, backupSqlite, openStore, restoreSqlite } from "./index.ts";

const RUNS = process.env["SPONDEE_LONG"] === undefined ? 150 : 100_000;

describe("a damaged backup", () => {
  let folder: string;
  let good: Buffer;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "spondee-fuzz-"));
    const store = await openStore({ sqliteFile: join(folder, "a.sqlite") });
    await store.db
      .insertInto("installation")
      .values(Array.from({ length: 300 }, (_, i) => ({ name: `n${i}`, value: "v".repeat(200) })))
      .execute();
    if (store.sqlite === undefined) throw new Error("not SQLite");
    const { file } = await backupSqlite(store.sqlite, join(folder, "good.sqlite"));
    await store.close();
    good = readFileSync(file);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test(
    `property: ${RUNS} mutated backups are refused in words or restore to a sound database (seed 11)`,
    () => {
      const random = createRandom(11);
      const file = join(folder, "mutated.sqlite");
      const target = join(folder, "target.sqlite");
      let refused = 0;
      for (let run = 0; run < RUNS; run += 1) {
        let bytes = Buffer.from(good);
        const kind = random.below(3);
        if (kind === 0) bytes = bytes.subarray(0, random.below(bytes.length));
        else
          for (let edit = 0; edit <= random.below(40); edit += 1)
            bytes[kind === 1 ? random.below(bytes.length) : random.below(4096)] = random.below(256);
        writeFileSync(file, bytes);
        const fault = backupFault(file);
        rmSync(target, { force: true });
        if (fault !== null) {
          refused += 1;
          expect(fault.length).toBeGreaterThan(10);
          expect(() => restoreSqlite(file, target, { replace: false, stamp: "1" })).toThrow(BackupError);
          continue;
        }
        restoreSqlite(file, target, { replace: false, stamp: "1" });
        expect(backupFault(target)).toBeNull();
      }
      expect(refused).toBeGreaterThan(RUNS / 4);
    },
    RUNS * 200 + 30_000,
  );
});
