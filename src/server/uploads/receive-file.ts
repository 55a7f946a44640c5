// A file as it arrives: streamed to the disk, counted and hashed on the way, gone again whatever happens.
import { createHash, randomUUID } from "node:crypto";
import { createWriteStream, mkdirSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { Refusal } from "../app/refusal.ts";

export interface ReceivedFile {
  readonly path: string;
  readonly byteCount: number;
  readonly sha256: string;
  bytes(): Promise<Uint8Array>;
}

/** Receives, hands over, removes. Refuses what is larger than the limit as soon as that is known. */
export async function withReceivedFile<T>(
  stream: Readable,
  options: { readonly folder: string; readonly maxBytes: number; readonly claimedBytes?: number },
  use: (file: ReceivedFile) => Promise<T>,
): Promise<T> {
  const tooLarge = () =>
    new Refusal(413, "too-large", `A file may have at most ${(options.maxBytes / 1e6).toFixed(1)} MB.`);
  if ((options.claimedBytes ?? 0) > options.maxBytes) throw tooLarge();
  mkdirSync(options.folder, { recursive: true, mode: 0o700 });
  const path = join(options.folder, `${randomUUID()}.part`);
  const hash = createHash("sha256");
  let byteCount = 0;
  // The request is left standing when it is refused, so that the answer still reaches the sender.
  const arriving = stream.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>;
  async function* counted(): AsyncGenerator<Buffer> {
    for await (const chunk of arriving) {
      byteCount += chunk.length;
      if (byteCount > options.maxBytes) throw tooLarge();
      hash.update(chunk);
      yield chunk;
    }
  }
  try {
    await pipeline(counted, createWriteStream(path, { mode: 0o600 }));
    return await use({ path, byteCount, sha256: hash.digest("hex"), bytes: () => readFile(path) });
  } finally {
    await rm(path, { force: true });
  }
}
