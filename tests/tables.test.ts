import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, test } from "vitest";
import { listTables } from "../scripts/list-tables.ts";

test("docs/tables.md says what the migrations make", async () => {
  const page = readFileSync(resolve(import.meta.dirname, "../docs/tables.md"), "utf8");
  expect(page, "run npx tsx scripts/list-tables.ts").toBe(await listTables());
});
