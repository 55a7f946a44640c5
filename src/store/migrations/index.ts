// Migrations, listed by hand: nothing runs because a file happens to lie in a folder.
import type { Migration, MigrationProvider } from "kysely";
import type { DatabaseKind } from "../dialects/kind.ts";
import { first } from "./001-first.ts";

export function listMigrations(kind: DatabaseKind): Record<string, Migration> {
  return { "001-first": first(kind) };
}

export function migrationProvider(kind: DatabaseKind): MigrationProvider {
  return { getMigrations: () => Promise.resolve(listMigrations(kind)) };
}
