// A file as it arrives: streamed to the disk, counted and hashed on the way, gone again whatever happens.
import { createHash, randomUUID } from "node:crypto";
import { createWriteStream, mkdirSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { type Readable, Transform } from "node:stream";
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
    new Refusal(413, "too-large", `A file may have at most ${Math.floor(options.maxBytes / 2 ** 20)} MB.`);
  if ((options.claimedBytes ?? 0) > options.maxBytes) throw tooLarge();
  mkdirSync(options.folder, { recursive: true, mode: 0o700 });
  const path = join(options.folder, `${randomUUID()}.part`);
  const hash = createHash("sha256");
  let byteCount = 0;
  const counter = new Transform({
    transform(chunk: Buffer, _encoding, next) {
      byteCount += chunk.length;
      hash.update(chunk);
      if (byteCount > options.maxBytes) next(tooLarge());
      else next(null, chunk);
    },
  });
  try {
    await pipeline(stream, counter, createWriteStream(path, { mode: 0o600 }));
    return await use({ path, byteCount, sha256: hash.digest("hex"), bytes: () => readFile(path) });
  } finally {
    await rm(path, { force: true });
  }
}
