// Keyset paging: the next page begins after the last row seen, so pages neither skip nor repeat while rows are added.
import { type Expression, type ExpressionBuilder, sql, type SqlBool } from "kysely";

export interface PageRequest {
  readonly limit: number;
  /** The `next` of the page before. */
  readonly after?: string;
}

export interface Page<T> {
  readonly items: readonly T[];
  readonly next: string | null;
  readonly total: number;
}

type Key = readonly [string | number, string];

/** Opaque to clients; null when it is not one of ours, which pages from the start. */
export function readCursor(cursor: string | undefined): Key | null {
  if (cursor === undefined) return null;
  try {
    const value: unknown = JSON.parse(Buffer.from(cursor, "base64url").toString("utf8"));
    if (!Array.isArray(value) || value.length !== 2) return null;
    const [key, id] = value as unknown[];
    if ((typeof key !== "string" && typeof key !== "number") || typeof id !== "string") return null;
    return [key, id];
  } catch {
    return null;
  }
}

function writeCursor(key: Key): string {
  return Buffer.from(JSON.stringify(key), "utf8").toString("base64url");
}

/** Rows beyond the cursor in the order (column, id), both in the same direction. */
export function beyond<DB, TB extends keyof DB>(
  build: ExpressionBuilder<DB, TB>,
  columns: { readonly key: Expression<unknown>; readonly id: Expression<unknown> },
  cursor: Key,
  direction: "asc" | "desc",
): Expression<SqlBool> {
  const operator = sql.raw(direction === "asc" ? ">" : "<");
  return build.or([
    sql<SqlBool>`${columns.key} ${operator} ${cursor[0]}`,
    build.and([sql<SqlBool>`${columns.key} = ${cursor[0]}`, sql<SqlBool>`${columns.id} ${operator} ${cursor[1]}`]),
  ]);
}

/** Cuts limit + 1 rows to a page. */
export function cutPage<T>(rows: readonly T[], limit: number, total: number, keyOf: (row: T) => Key): Page<T> {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  return { items, next: rows.length > limit && last !== undefined ? writeCursor(keyOf(last)) : null, total };
}
