import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { at, context, group, pain, runner, tracked } from "../../tests/store-rows.ts";
import { storeVariants } from "../../tests/store-variants.ts";
import {
  addJob,
  backupFault,
  BackupError,
  backupSqlite,
  ChangeReader,
  claimJob,
  countTables,
  finishJob,
  integrityFaults,
  moveStore,
  openStore,
  readRoster,
  RecordingWriter,
  restoreSqlite,
  returnJob,
  rotate,
  type Store,
  StoreOpenError,
  TrackedWrite,
  undoChange,
  waitingJobCount,
} from "./index.ts";
import { tablesInOrder, tablesOfRunner, trackedTables } from "./schema/tables.ts";

describe.each(storeVariants)("store on $name", (variant) => {
  let store: Store;
  let close: () => Promise<void>;
  beforeEach(async () => {
    ({ store, close } = await variant.open());
    await tracked(store, "c0", (write) => write.put("coachGroup", group));
  });
  afterEach(() => close());

  test("the migrations make the tables that the code knows, and no others", async () => {
    const made = (await store.db.introspection.getTables()).map((table) => table.name);
    expect([...made].sort()).toEqual([...tablesInOrder].sort());
    expect(trackedTables.every((table) => made.includes(table))).toBe(true);
    // Whoever belongs to a person is found by runnerId: a new table with that column must be in the list that deleting reads.
    const personal = (await store.db.introspection.getTables())
      .filter((table) => table.columns.some((column) => column.name === "runnerId"))
      .map((table) => table.name)
      .filter((name) => !["audit", "change", "changeRow"].includes(name));
    expect([...personal].sort()).toEqual([...tablesOfRunner].sort());
  });

  test("a tracked write remembers before and after, and writing the same again is no change", async () => {
    expect(await tracked(store, "c1", (write) => write.put("runner", runner("r1", "Ada")))).toBe("c1");
    expect(await tracked(store, "c2", (write) => write.put("runner", runner("r1", "Ada")))).toBeNull();
    await tracked(store, "c3", (write) => write.put("runner", { ...runner("r1", "Ada"), heightM: 1.71 }));
    const reader = new ChangeReader(store.db);
    expect((await reader.page("g1", { limit: 10, runnerId: "r1" })).total).toBe(2);
    const [row] = await reader.rows("c3");
    expect(JSON.parse(row?.beforeJson ?? "")["heightM"]).toBe(1.7);
    expect(JSON.parse(row?.afterJson ?? "")["heightM"]).toBe(1.71);
    const state = await store.db.selectFrom("runnerState").select("dataVersion").executeTakeFirst();
    expect(state?.dataVersion).toBe(2);
  });

  test("undo puts back what was there, refuses what changed since, and can itself be undone", async () => {
    await tracked(store, "c1", (write) => write.put("runner", runner("r1", "Ada")));
    await tracked(store, "c2", (write) => write.put("runner", { ...runner("r1", "Ada"), name: "Bea" }));
    const undo = (changeId: string, as: string) =>
      store.write(async (trx) => {
        const write = new TrackedWrite(trx, { ...context(as), undoOf: changeId });
        const outcome = await undoChange(write, changeId);
        if (outcome.kind === "undone") await write.finish();
        return outcome.kind;
      });
    expect(await undo("c1", "u0")).toBe("conflict");
    expect(await undo("c2", "u1")).toBe("undone");
    expect((await store.db.selectFrom("runner").select("name").executeTakeFirst())?.name).toBe("Ada");
    expect(await undo("c2", "u2")).toBe("already-undone");
    expect(await undo("u1", "u3")).toBe("undone");
    expect((await store.db.selectFrom("runner").select("name").executeTakeFirst())?.name).toBe("Bea");
    expect(await undo("nothing", "u4")).toBe("missing");
  });

  test("undoing the birth of a runner is refused when something hangs on them", async () => {
    await tracked(store, "c1", (write) => write.put("runner", runner("r1", "Ada")));
    await tracked(store, "c2", (write) => write.put("pain", pain("p1", "r1", 3)));
    const failed = store.write(async (trx) => {
      const write = new TrackedWrite(trx, context("u1"));
      const outcome = await undoChange(write, "c1");
      if (outcome.kind === "conflict") throw new Error("conflict");
      await write.finish();
    });
    await expect(failed).rejects.toThrow("conflict");
    expect(await store.db.selectFrom("runner").select("id").execute()).toHaveLength(1);
  });

  test("a write that fails half way leaves nothing", async () => {
    const failed = tracked(store, "c1", async (write) => {
      await write.put("runner", runner("r1", "Ada"));
      throw new Error("stop");
    });
    await expect(failed).rejects.toThrow("stop");
    expect(await store.db.selectFrom("runner").select("id").execute()).toEqual([]);
    expect(await store.db.selectFrom("runnerState").select("runnerId").execute()).toEqual([]);
  });

  test("property: pages of the roster neither skip nor repeat, in any order, with equal names", async () => {
    const names = ["Ada", "Bea", "Bea", "Bea", "Cem", "Dov", "Eli", "Eli"];
    await tracked(store, "c1", async (write) => {
      for (const [index, name] of names.entries()) await write.put("runner", runner(`r${index}`, name));
    });
    for (const sort of ["name", "baseline", "target", "last-recording", "created"] as const)
      for (const descending of [false, true])
        for (const limit of [1, 3, 8]) {
          const seen: string[] = [];
          let after: string | null = null;
          do {
            const page = await readRoster(store.db, {
              groupId: "g1",
              sort,
              descending,
              archived: false,
              limit,
              ...(after === null ? {} : { after }),
            });
            expect(page.total).toBe(8);
            seen.push(...page.items.map((row) => row.id));
            after = page.next;
          } while (after !== null);
          expect([...seen].sort(), `${sort} ${descending} ${limit}`).toEqual(names.map((_, index) => `r${index}`));
          if (sort === "name" && !descending) expect(seen[0]).toBe("r0");
          if (sort === "name" && descending) expect(seen[0]).toBe("r7");
        }
    const found = await readRoster(store.db, {
      groupId: "g1",
      sort: "name",
      descending: false,
      archived: false,
      limit: 9,
      search: "%",
    });
    expect(found.items, "a wildcard is an ordinary character").toEqual([]);
  });

  test("a job is held by one at a time, comes back when its holder dies, and asking twice is asking once", async () => {
    const job = { id: "j1", jobKey: "k", kind: "analyse", payload: { a: 1 }, at };
    await store.write((trx) => addJob(trx, job));
    await store.write((trx) => addJob(trx, { ...job, id: "j2" }));
    expect(await waitingJobCount(store.db)).toBe(1);
    const claim = (by: string, now: string, until: string) =>
      store.write((trx) => claimJob(trx, { by, now, until, maxAttempts: 5 }));
    expect((await claim("a", at, "2026-03-05T18:01:00.000Z"))?.id).toBe("j1");
    expect(await claim("b", "2026-03-05T18:00:30.000Z", "2026-03-05T18:02:00.000Z")).toBeUndefined();
    expect((await claim("b", "2026-03-05T18:01:00.000Z", "2026-03-05T18:02:00.000Z"))?.attempts).toBe(2);
    await store.write((trx) => returnJob(trx, "j1", "2026-03-05T19:00:00.000Z", "later"));
    expect(await claim("a", "2026-03-05T18:30:00.000Z", "2026-03-05T18:31:00.000Z")).toBeUndefined();
    await store.write((trx) => finishJob(trx, "j1"));
    expect(await waitingJobCount(store.db)).toBe(0);
  });

  test("eight processes' worth of claims never hand one job to two", async () => {
    await store.write(async (trx) => {
      for (let index = 0; index < 20; index += 1)
        await addJob(trx, { id: `j${index}`, jobKey: `k${index}`, kind: "x", payload: null, at });
    });
    const taken: string[] = [];
    const take = async (by: string): Promise<void> => {
      for (;;) {
        const job = await store.write((trx) =>
          claimJob(trx, { by, now: at, until: "2026-03-05T19:00:00.000Z", maxAttempts: 5 }),
        );
        if (job === undefined) return;
        taken.push(job.id);
      }
    };
    await Promise.all(Array.from({ length: 8 }, (_, index) => take(`p${index}`)));
    expect(taken).toHaveLength(20);
    expect(new Set(taken).size).toBe(20);
  });

  test("a move copies every table, compares the counts, and refuses a target with data", async () => {
    await tracked(store, "c1", async (write) => {
      await write.put("runner", runner("r1", "Ada"));
      await new RecordingWriter(write.trx).putBytes(
        "x",
        Array.from({ length: 20 }, (_, i) => Uint8Array.of(i)),
      );
    });
    const target = await openStore({ sqliteFile: ":memory:" });
    const counts = await moveStore(store, target);
    expect(counts).toEqual(await countTables(store));
    expect(counts["recordingChunk"]).toBe(20);
    expect(await target.db.selectFrom("runner").selectAll().execute()).toEqual(
      await store.db.selectFrom("runner").selectAll().execute(),
    );
    // And back the other way, into this kind of database.
    const again = await variant.open();
    await moveStore(target, again.store);
    expect(await countTables(again.store)).toEqual(counts);
    await expect(moveStore(target, again.store)).rejects.toThrow("already holds data");
    await again.close();
    await target.close();
  });
});

describe("the SQLite file", () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "spondee-store-"));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  test("every commit is synced: WAL with synchronous FULL and foreign keys on", async () => {
    const store = await openStore({ sqliteFile: join(folder, "a.sqlite") });
    expect(store.sqlite?.pragma("journal_mode", { simple: true })).toBe("wal");
    expect(store.sqlite?.pragma("synchronous", { simple: true })).toBe(2);
    expect(store.sqlite?.pragma("foreign_keys", { simple: true })).toBe(1);
    await store.close();
  });

  test("a backup made while writing is whole and sound, and restores", async () => {
    const file = join(folder, "a.sqlite");
    const store = await openStore({ sqliteFile: file });
    await tracked(store, "c0", (write) => write.put("coachGroup", group));
    const writing = (async () => {
      for (let index = 0; index < 50; index += 1)
        await tracked(store, `w${index}`, (write) => write.put("runner", runner(`r${index}`, `N${index}`)));
    })();
    const sqlite = store.sqlite!;
    const made = await backupSqlite(sqlite, join(folder, "b", "backup.sqlite"));
    await writing;
    expect(backupFault(made.file)).toBeNull();
    expect(() => restoreSqlite(made.file, file, { replace: false, stamp: "1" })).toThrow("--replace");
    expect(() => restoreSqlite(made.file, file, { replace: true, stamp: "1" })).toThrow("in use");
    await store.close();
    const { kept } = restoreSqlite(made.file, file, { replace: true, stamp: "1" });
    const restored = await openStore({ sqliteFile: file });
    const changes = await restored.db.selectFrom("change").select("id").execute();
    const runners = await restored.db.selectFrom("runner").select("id").execute();
    // A consistent copy: each change with its row, none without.
    expect(changes.length).toBe(runners.length + 1);
    expect(integrityFaults(restored.sqlite!)).toEqual([]);
    await restored.close();
    const old = await openStore({ sqliteFile: kept! });
    expect(await old.db.selectFrom("runner").select("id").execute()).toHaveLength(50);
    await old.close();
  });

  test("restore refuses what is no backup and touches nothing", async () => {
    const junk = join(folder, "junk.sqlite");
    writeFileSync(junk, "not a database at all, only text of some length to be read as a header ............");
    const target = join(folder, "t.sqlite");
    expect(() => restoreSqlite(junk, target, { replace: true, stamp: "1" })).toThrow(BackupError);
    expect(() => restoreSqlite(join(folder, "none"), target, { replace: true, stamp: "1" })).toThrow(
      "There is no file",
    );
    await expect(openStore({ sqliteFile: junk })).rejects.toMatchObject({ name: "StoreOpenError", code: "damaged" });
  });

  test("a database of a newer program is refused, in words", async () => {
    const file = join(folder, "a.sqlite");
    const store = await openStore({ sqliteFile: file });
    store.sqlite?.prepare("insert into kysely_migration values ('999-future', '2030')").run();
    await store.close();
    const error = await openStore({ sqliteFile: file }).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(StoreOpenError);
    expect((error as StoreOpenError).code).toBe("newer");
    expect((error as StoreOpenError).message).toContain("999-future");
  });

  test("a folder that is a file is explained", async () => {
    writeFileSync(join(folder, "x"), "");
    await expect(openStore({ sqliteFile: join(folder, "x", "a.sqlite") })).rejects.toBeInstanceOf(StoreOpenError);
  });

  test("rotation keeps the newest", () => {
    for (const day of ["01", "02", "03"]) writeFileSync(join(folder, `spondee-2026-03-${day}.sqlite`), "");
    writeFileSync(join(folder, "other.txt"), "");
    expect(rotate(folder, /^spondee-.*\.sqlite$/, 2)).toEqual(["spondee-2026-03-01.sqlite"]);
  });
});
