// Migrations, listed by hand: nothing runs because a file happens to lie in a folder.
import type { Migration, MigrationProvider } from "kysely";
import type { DatabaseKind } from "../dialects/kind.ts";
import { first } from "./001-first.ts";
import { handOuts } from "./002-hand-outs.ts";
import { weekFacts } from "./003-week-facts.ts";
import { weekWithPlan } from "./004-week-with-plan.ts";
import { uploadParts } from "./005-upload-parts.ts";
import { wrongGuesses } from "./006-wrong-guesses.ts";
import { contentKey } from "./007-content-key.ts";

/** 002 holds everything of hand-outs: templates, mail addresses, mail servers, the outbox and calendar feeds. */
export function listMigrations(kind: DatabaseKind): Record<string, Migration> {
  return {
    "001-first": first(kind),
    "002-hand-outs": handOuts(),
    "003-week-facts": weekFacts(),
    "004-week-with-plan": weekWithPlan(),
    "005-upload-parts": uploadParts(kind),
    "006-wrong-guesses": wrongGuesses(),
    "007-content-key": contentKey(),
  };
}

export function migrationProvider(kind: DatabaseKind): MigrationProvider {
  return { getMigrations: () => Promise.resolve(listMigrations(kind)) };
}
