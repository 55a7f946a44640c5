// PostgreSQL through a pool. Counts come back as numbers; everything else is stored as text, integer or double already.
import { PostgresDialect } from "kysely";
import pg from "pg";

const BIGINT_OID = 20;

export function openPool(url: string, options: { max?: number } = {}): pg.Pool {
  const types: pg.CustomTypesConfig = {
    getTypeParser: ((oid: number, format?: "text" | "binary") =>
      oid === BIGINT_OID
        ? (text: string) => Number(text)
        : pg.types.getTypeParser(oid, format as "text")) as pg.CustomTypesConfig["getTypeParser"],
  };
  const pool = new pg.Pool({
    connectionString: url,
    max: options.max ?? 10,
    types,
    connectionTimeoutMillis: 10_000,
    options: "-c timezone=UTC",
  });
  // An idle connection that breaks is replaced by the pool; without a listener it would end the process.
  pool.on("error", () => undefined);
  return pool;
}

export function postgresDialect(pool: pg.Pool): PostgresDialect {
  return new PostgresDialect({ pool });
}
