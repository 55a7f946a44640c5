// Deleting a person reaches every table and the file itself: all tables are filled from their own description, then searched.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ColumnMetadata } from "kysely";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { account, group, pain, runner, tracked } from "../../../tests/store-rows.ts";
import { storeVariants } from "../../../tests/store-variants.ts";
import { eraseGroup, eraseRunner, openStore, RecordingReader, RecordingWriter, type Store } from "../index.ts";
import { tablesInOrder, tablesOfRunner } from "../schema/tables.ts";

/** What is written everywhere about the person who is deleted. */
const PERSON = "Zebulon";
/** Rows that are of nobody, of the group or of a coach; why each may stay when a runner is deleted. */
const staying = {
  account: "a coach",
  signInSession: "a coach",
  oneTimeCode: "a coach",
  wrongGuess: "a hash of a name that was typed to sign in",
  coachGroup: "the group",
  member: "coaches of the group",
  practicePiece: "the group's own drills",
  mailServer: "a coach's",
  audit: "that a deletion happened: random ids only",
  job: "random ids only; finds nothing to do",
  installation: "the installation",
} as const;
const ofTheRest = ["runner", "recordingChunk", "analysis", "change", "changeRow"] as const;

type Row = Record<string, unknown>;

describe.each(storeVariants)("deleting on $name", (variant) => {
  let store: Store;
  let close: () => Promise<void>;
  beforeEach(async () => {
    ({ store, close } = await variant.open());
    await store.db
      .insertInto("account")
      .values([account("a1")])
      .execute();
    await store.db.insertInto("coachGroup").values(group).execute();
    await store.db
      .insertInto("runner")
      .values([runner("r1", `${PERSON} Quill`), runner("r2", "Other")])
      .execute();
    await fill("r1", PERSON);
    await fill("r2", "Bystander");
  });
  afterEach(() => close());

  /** One row of every table that can hold something of a runner, each text filled with the word. */
  async function fill(runnerId: string, word: string): Promise<void> {
    const described = new Map((await store.db.introspection.getTables()).map((table) => [table.name, table.columns]));
    const own = new Set<string>([...tablesOfRunner, ...ofTheRest.slice(1)]);
    for (const table of tablesInOrder.filter((name) => own.has(name))) {
      const row = rowOf(table, described.get(table) ?? [], runnerId, word);
      await store.db
        .insertInto(table as "pain")
        .values(row as never)
        .execute();
    }
  }

  function rowOf(table: string, columns: readonly ColumnMetadata[], runnerId: string, word: string): Row {
    const known: Row = {
      runnerId,
      groupId: "g1",
      accountId: "a1",
      byAccountId: "a1",
      recordingId: `rec-${runnerId}`,
      changeId: `change-${runnerId}`,
      id: table === "recording" ? `rec-${runnerId}` : `${table}-${runnerId}`,
    };
    if (table === "change") known["id"] = `change-${runnerId}`;
    return Object.fromEntries(
      columns.map(({ name, dataType }) => {
        if (name in known) return [name, known[name]];
        if (/blob|bytea/i.test(dataType)) return [name, Buffer.from(`${word} ${name}`)];
        return [name, /text|char/i.test(dataType) ? `${word} ${table} ${name}` : 1];
      }),
    );
  }

  async function everything(): Promise<ReadonlyMap<string, string>> {
    const found = new Map<string, string>();
    for (const table of tablesInOrder) {
      const rows = (await store.db.selectFrom(table).selectAll().execute()) as Row[];
      const plain = rows.map((row) =>
        Object.fromEntries(
          Object.entries(row).map(([name, value]) => [
            name,
            value instanceof Uint8Array ? Buffer.from(value).toString("latin1") : value,
          ]),
        ),
      );
      found.set(table, JSON.stringify(plain));
    }
    return found;
  }
  const holding = (tables: ReadonlyMap<string, string>, what: RegExp): string[] =>
    [...tables].filter(([, text]) => what.test(text)).map(([name]) => name);

  test("every table is either searched for the person or may stay, with its reason", () => {
    expect([...tablesOfRunner, ...ofTheRest, ...Object.keys(staying)].sort()).toEqual([...tablesInOrder].sort());
  });

  test("a person who is in every table that can hold one is in none afterwards; another stays whole", async () => {
    const before = await everything();
    expect(holding(before, /Zebulon/).sort()).toEqual([...tablesOfRunner, ...ofTheRest].sort());
    const bystander = holding(before, /Bystander|"r2"/);
    await store.write((trx) => eraseRunner(trx, "r1"));
    const after = await everything();
    expect(holding(after, /Zebulon|"r1"|rec-r1/i)).toEqual([]);
    expect(holding(after, /Bystander|"r2"/)).toEqual(bystander);
  });

  test("a group takes its people with it", async () => {
    await store.write((trx) => eraseGroup(trx, "g1"));
    expect(holding(await everything(), /Zebulon|Bystander|"r1"|"r2"|"g1"/)).toEqual([]);
  });

  test("bytes come back as they went, and those of a removed recording go with the person", async () => {
    await tracked(store, "c2", async (write) => {
      await write.put("pain", pain("p1", "r1", 4));
      await write.put("recording", {
        id: "rec1",
        runnerId: "r1",
        fileName: "zebulon.gpx",
        byteCount: 3,
        contentSha256: "h",
        phase: "before",
        surface: "outdoor",
        startedAt: null,
        uploadedAt: "2026-03-05T18:00:00.000Z",
        uploadedBy: "coach",
        excluded: 0,
        excludedReason: "",
        trimStartS: 0,
        trimEndS: null,
        cueBlocksJson: null,
        effortRating: null,
        note: "",
      });
      await new RecordingWriter(write.trx).putBytes("rec1", [Uint8Array.of(0, 255, 7), Uint8Array.of(9)]);
    });
    const bytes: number[] = [];
    for await (const chunk of new RecordingReader(store.db).bytes("rec1")) bytes.push(...chunk);
    expect(bytes).toEqual([0, 255, 7, 9]);
    // Removed but still possible to undo: the bytes are there without a row, and deletion must find them.
    await tracked(store, "c3", (write) => write.remove("recording", "rec1"));
    const counts = await store.write((trx) => eraseRunner(trx, "r1"));
    expect(counts["recordingChunk"]).toBe(3);
    expect(holding(await everything(), /zebulon|rec1/i)).toEqual([]);
  });
});

test("the SQLite file and its log hold no byte of a deleted person either", async () => {
  const folder = mkdtempSync(join(tmpdir(), "spondee-erase-"));
  const store = await openStore({ sqliteFile: join(folder, "a.sqlite") });
  const bytes = () =>
    readdirSync(folder)
      .map((name) => readFileSync(join(folder, name), "latin1"))
      .join("");
  try {
    await store.db.insertInto("coachGroup").values(group).execute();
    for (let index = 0; index < 20; index += 1)
      await tracked(store, `c${index}`, async (write) => {
        await write.put("runner", runner(`r${index}`, `${PERSON} ${index}`));
        await write.put("pain", { ...pain(`p${index}`, `r${index}`, 4), note: PERSON.repeat(500) });
      });
    expect(bytes()).toContain(PERSON);
    for (let index = 0; index < 20; index += 1) await store.erase((trx) => eraseRunner(trx, `r${index}`));
    expect(bytes()).not.toMatch(/zebulon/i);
  } finally {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
