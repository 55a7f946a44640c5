// Slows guessing down, by name: after a few wrong passwords each further try must wait longer. Kept in the database, so
// that the processes in front of it count together and a restart forgives nothing.
import type { Store } from "../../store/index.ts";
import { hashSecret } from "./secrets.ts";

const FREE_TRIES = 5;
const LONGEST_WAIT_MS = 15 * 60_000;

/** Milliseconds to wait after so many wrong guesses in a row: 1 s after the fifth, then twice as long each, up to 15 min. */
export function waitAfterMs(wrongGuesses: number): number {
  return wrongGuesses < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, 1000 * 2 ** (wrongGuesses - FREE_TRIES));
}

export interface GuessBrake {
  /** Milliseconds to wait before this name may be tried again; 0 when it may be now. */
  waitMs(name: string, now: Date): Promise<number>;
  failed(name: string, now: Date): Promise<void>;
  succeeded(name: string): Promise<void>;
}

export function createGuessBrake(store: Store): GuessBrake {
  return {
    async waitMs(name, now) {
      const row = await store.db
        .selectFrom("wrongGuess")
        .select("freeAt")
        .where("nameHash", "=", hashSecret(name))
        .executeTakeFirst();
      return row === undefined ? 0 : Math.max(0, Date.parse(row.freeAt) - now.getTime());
    },
    async failed(name, now) {
      const nameHash = hashSecret(name);
      await store.write(async (trx) => {
        const { count } = await trx
          .insertInto("wrongGuess")
          .values({ nameHash, count: 1, freeAt: now.toISOString() })
          .onConflict((conflict) =>
            conflict.column("nameHash").doUpdateSet((build) => ({ count: build("wrongGuess.count", "+", 1) })),
          )
          .returning("count")
          .executeTakeFirstOrThrow();
        const freeAt = new Date(now.getTime() + waitAfterMs(Number(count))).toISOString();
        await trx.updateTable("wrongGuess").set({ freeAt }).where("nameHash", "=", nameHash).execute();
      });
    },
    async succeeded(name) {
      await store.write((trx) => trx.deleteFrom("wrongGuess").where("nameHash", "=", hashSecret(name)).execute());
    },
  };
}
