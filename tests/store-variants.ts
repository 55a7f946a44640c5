// Every store and API test runs on SQLite, and on PostgreSQL when SPONDEE_TEST_DATABASE_URL names a server.
import { randomBytes } from "node:crypto";
import pg from "pg";
import { openStore, type Store } from "../src/store/index.ts";

export interface StoreVariant {
  readonly name: "sqlite" | "postgres";
  /** A new, empty, migrated store; `close` also removes it. */
  open(): Promise<{ store: Store; close: () => Promise<void> }>;
}

const serverUrl = process.env["SPONDEE_TEST_DATABASE_URL"];

export const storeVariants: readonly StoreVariant[] = [
  {
    name: "sqlite",
    async open() {
      const store = await openStore({ sqliteFile: ":memory:" });
      return { store, close: () => store.close() };
    },
  },
  ...(serverUrl === undefined
    ? []
    : [
        {
          name: "postgres" as const,
          async open() {
            const database = await createTestDatabase(serverUrl);
            const store = await openStore({ databaseUrl: database.url, poolSize: 4 });
            return {
              store,
              close: async () => {
                await store.close();
                await database.drop();
              },
            };
          },
        },
      ]),
];

/** A database of its own on the test server. */
export async function createTestDatabase(url: string): Promise<{ url: string; drop: () => Promise<void> }> {
  const name = `spondee_test_${randomBytes(6).toString("hex")}`;
  const run = async (sql: string): Promise<void> => {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    try {
      await client.query(sql);
    } finally {
      await client.end();
    }
  };
  await run(`create database ${name}`);
  const own = new URL(url);
  own.pathname = `/${name}`;
  return { url: own.href, drop: () => run(`drop database if exists ${name} with (force)`) };
}
