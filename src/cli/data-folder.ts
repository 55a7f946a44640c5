// Which data folder a command works on, and the server part's refusals in the command line's words.
import path from "node:path";
import { type Options, type OptionSpec, RefusedError } from "./command.ts";

export const dataOption = {
  data: { value: "DIR", help: "the data folder (default ./data)" },
} as const satisfies Record<string, OptionSpec>;

export function dataFolder(options: Options): string {
  return path.resolve(options.text("data") ?? "data");
}

/** Names of the server's and store's errors whose message is a sentence for people. */
const refusals = new Set(["StartError", "BindRefusedError", "StoreOpenError", "BackupError", "MoveError"]);

/** Runs the work; a refusal ends the command with exit 3. */
export async function refusing<Value>(work: () => Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Error && refusals.has(error.name)) throw new RefusedError(error.message, { cause: error });
    throw error;
  }
}
