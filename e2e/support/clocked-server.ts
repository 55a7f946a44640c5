// The real server on a clock that the test sets: weeks pass in a moment. Pages come from the same build as everywhere.
import { randomBytes } from "node:crypto";
import path from "node:path";
import { startServer } from "../../src/server/index.ts";

export interface ClockedServer {
  readonly origin: string;
  /** Makes the first coach. */
  readonly setupUrl: string;
  /** From now on it is this instant; it stands until set again, but for a millisecond a look. */
  set(at: string): void;
  stop(): Promise<void>;
}

export async function startClockedServer(dataDir: string, at: string): Promise<ClockedServer> {
  let nowMs = Date.parse(at);
  const server = await startServer({
    dataDir,
    port: 0,
    pagesDir: path.resolve(import.meta.dirname, "../../dist"),
    clock: { now: () => new Date((nowMs += 1)), randomBytes: (count) => randomBytes(count) },
  });
  return {
    origin: server.address,
    setupUrl: server.setupAddress ?? "",
    set: (next) => {
      nowMs = Date.parse(next);
    },
    stop: () => server.stop(),
  };
}
