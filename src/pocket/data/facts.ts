// Small things the phone remembers, by name and with their shape.
import type { RunnerToday } from "../../api/index.ts";
import type { PocketDatabase } from "./database.ts";
import type { WeekAnswered } from "../today/week-question.ts";
import type { Preferences } from "./preferences.ts";

export interface Facts {
  readonly token: string;
  readonly today: { readonly answer: RunnerToday; readonly fetchedAtMs: number; readonly shape: number };
  readonly consent: { readonly given: boolean; readonly location: boolean; readonly at: string };
  readonly preferences: Preferences;
  readonly weekAnswered: WeekAnswered;
  /** The rate that was last learned standing, both feet. */
  readonly learnedSpm: number;
}

/** Raised with every change of RunnerToday: an answer kept by an older page is not shown by a newer one. */
export const TODAY_SHAPE = 2;

export async function readFact<K extends keyof Facts>(
  database: PocketDatabase,
  name: K,
): Promise<Facts[K] | undefined> {
  return (await database.get("facts", name)) as Facts[K] | undefined;
}

export async function writeFact<K extends keyof Facts>(
  database: PocketDatabase,
  name: K,
  value: Facts[K],
): Promise<void> {
  await database.put("facts", value, name);
}

export async function forgetFact(database: PocketDatabase, name: keyof Facts): Promise<void> {
  await database.delete("facts", name);
}
