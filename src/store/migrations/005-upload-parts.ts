// Recordings that arrive in parts over a bad line.
import { type Kysely, sql } from "kysely";
import type { DatabaseKind } from "../dialects/kind.ts";

export const uploadParts = (kind: DatabaseKind) => ({
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema
      .createTable("uploadPart")
      .addColumn("runnerId", "text", (column) => column.notNull().references("runner.id"))
      .addColumn("recordingId", "text", (column) => column.notNull())
      .addColumn("startByte", "integer", (column) => column.notNull())
      .addColumn("byteCount", "integer", (column) => column.notNull())
      .addColumn("bytes", kind === "postgres" ? sql`bytea` : sql`blob`, (column) => column.notNull())
      .addColumn("receivedAt", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("uploadPartKey", ["runnerId", "recordingId", "startByte"])
      .execute();
  },
});
