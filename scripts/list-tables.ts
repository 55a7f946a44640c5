// Writes docs/tables.md from a database that the migrations have just made, and the comments of the schema files.
// Usage: tsx scripts/list-tables.ts
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { openStore } from "../src/store/index.ts";
import { tablesInOrder, tablesOfRunner, trackedTables } from "../src/store/schema/tables.ts";

const root = resolve(import.meta.dirname, "..");

interface Column {
  readonly name: string;
  readonly type: string;
  readonly notnull: number;
  readonly pk: number;
}

/** The page as text: every table, its columns, what they refer to and its indexes. */
export async function listTables(): Promise<string> {
  const store = await openStore({ sqliteFile: ":memory:" });
  try {
    const { sqlite } = store;
    if (sqlite === undefined) throw new TypeError("listTables: not SQLite");
    const parts = tablesInOrder.map((table) => {
      const columns = sqlite.pragma(`table_info("${table}")`) as Column[];
      const references = new Map(
        (sqlite.pragma(`foreign_key_list("${table}")`) as { from: string; table: string }[]).map((key) => [
          key.from,
          key.table,
        ]),
      );
      const indexes = (
        sqlite
          .prepare("select name, sql from sqlite_master where type = 'index' and tbl_name = ? and sql is not null")
          .all(table) as { name: string; sql: string }[]
      ).map((index) => `- index ${index.sql.replace(/^create (unique )?index /i, "$1").replaceAll('"', "")}`);
      const rows = columns.map((column) => {
        const to = references.get(column.name);
        const notes = [column.pk > 0 ? "key" : "", column.notnull === 0 ? "may be null" : "", to ? `to ${to}` : ""];
        return `| ${column.name} | ${column.type} | ${notes.filter((note) => note !== "").join(", ")} |`;
      });
      const facts = [
        (tablesOfRunner as readonly string[]).includes(table) ? "Goes with its runner." : "",
        (trackedTables as readonly string[]).includes(table) ? "Each write is remembered and can be undone." : "",
      ].filter((fact) => fact !== "");
      return [
        `## ${table}`,
        ...[commentOf(table), ...facts].filter((line) => line !== ""),
        "",
        "| column | type | |",
        "| --- | --- | --- |",
        ...rows,
        ...(indexes.length === 0 ? [] : ["", ...indexes]),
      ].join("\n");
    });
    const head =
      "# Tables\n\nMade by `npx tsx scripts/list-tables.ts` from the migrations; a test fails when it is out of date. Types are SQLite's; on PostgreSQL `blob` is `bytea`. Yes and no are 1 and 0, moments and days ISO 8601 text.";
    return `${[head, ...parts].join("\n\n")}\n`;
  } finally {
    await store.close();
  }
}

/** What the schema file says of the table: the comment before its interface, or at the top of a file of its own. */
function commentOf(table: string): string {
  const folder = join(root, "src/store/schema");
  const name = `${table.charAt(0).toUpperCase()}${table.slice(1)}Table`;
  for (const file of readdirSync(folder)) {
    const text = readFileSync(join(folder, file), "utf8");
    const at = text.indexOf(`export interface ${name} `);
    if (at < 0) continue;
    const before = text.slice(0, at).trimEnd();
    const block = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/$/.exec(before)?.[1];
    const top = /^\/\/ (.*)$/m.exec(text)?.[1];
    return (block ?? top ?? "").replaceAll(/\s*\n\s*\*\s*/g, " ").trim();
  }
  return "";
}

if (process.argv[1] === import.meta.filename) writeFileSync(join(root, "docs/tables.md"), await listTables());
