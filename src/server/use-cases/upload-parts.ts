// A recording that comes in parts over a bad line: each part is on the disk before it is acknowledged, sending goes on where
// it stopped, and the whole is read and stored like any other upload.
import { Readable } from "node:stream";
import { CHUNK_BYTES, RecordingReader, UploadPartReader, UploadPartWriter } from "../../store/index.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { Refusal } from "../app/refusal.ts";
import { storeUpload, type StoredUpload, type Upload } from "./store-recording.ts";
import type { Author } from "./write-change.ts";

/** More parts than this no phone makes; it bounds what a broken one can leave behind. */
const MOST_PARTS = 4096;

export interface PartsArrived {
  readonly receivedBytes: number;
  readonly isStored: boolean;
}

export async function partsArrived(deps: Deps, runnerId: string, recordingId: string): Promise<PartsArrived> {
  const { db } = deps.store;
  const isStored = (await new RecordingReader(db).one(runnerId, recordingId)) !== undefined;
  return { receivedBytes: (await new UploadPartReader(db).arrived(runnerId, recordingId)).byteCount, isStored };
}

/** Keeps the part when it begins where the last one ended; answers where to go on either way. */
export async function keepPart(
  deps: Deps,
  place: { readonly runnerId: string; readonly recordingId: string; readonly startByte: number },
  stream: Readable,
): Promise<PartsArrived> {
  const { runnerId, recordingId, startByte } = place;
  const bytes = await readPart(stream);
  if (bytes.byteLength === 0) throw new Refusal(422, "file-empty", "A part holds at least one byte.");
  const most = deps.settings.maxUploadBytes;
  const tooLarge = () => new Refusal(413, "too-large", `A file may have at most ${(most / 1e6).toFixed(1)} MB.`);
  if (startByte + bytes.byteLength > most) throw tooLarge();
  await deps.store.write(async (trx) => {
    const writer = new UploadPartWriter(trx);
    if ((await new RecordingReader(trx).one(runnerId, recordingId)) !== undefined) return;
    const { byteCount, partCount } = await writer.arrived(runnerId, recordingId);
    if (byteCount !== startByte) return;
    // Phones send one recording after the other: what is unfinished besides this one is what they gave up.
    const all = await writer.arrivedInAll(runnerId);
    if (partCount >= MOST_PARTS || all.byteCount + bytes.byteLength > 2 * most) throw tooLarge();
    await writer.add({ ...place, bytes, receivedAt: instant(deps.clock) });
  });
  return partsArrived(deps, runnerId, recordingId);
}

/** Reads and stores what arrived. The parts go when it is stored, and when they can never become a recording. */
export async function joinParts(deps: Deps, author: Author, upload: Upload): Promise<StoredUpload> {
  const { runnerId, recordingId } = upload;
  const { db } = deps.store;
  const drop = (): Promise<void> => deps.store.write((trx) => new UploadPartWriter(trx).remove(runnerId, recordingId));
  const reader = new RecordingReader(db);
  const same = await reader.one(runnerId, recordingId);
  const copy = upload.sha256 === undefined ? undefined : await reader.byContent(runnerId, upload.sha256);
  const there = same ?? copy;
  if (there !== undefined && (upload.sha256 === undefined || there.contentSha256 === upload.sha256)) {
    await drop();
    return { outcome: same === undefined ? "duplicate" : "already-stored", row: there };
  }
  if (same !== undefined) throw new Refusal(409, "id-taken", "Another recording has that id.");
  const parts = new UploadPartReader(db);
  const { byteCount } = await parts.arrived(runnerId, recordingId);
  if (byteCount === 0)
    throw new Refusal(409, "no-parts", "Nothing of this recording is here. Send it from the beginning.");
  try {
    const stored = await storeUpload(
      deps,
      author,
      upload,
      Readable.from(parts.bytes(runnerId, recordingId)),
      byteCount,
    );
    await drop();
    return stored;
  } catch (error) {
    if (error instanceof Refusal && error.code !== "conflict" && error.status < 500) await drop();
    throw error;
  }
}

async function readPart(stream: Readable): Promise<Uint8Array> {
  const pieces: Buffer[] = [];
  let byteCount = 0;
  for await (const piece of stream.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>) {
    byteCount += piece.length;
    if (byteCount > CHUNK_BYTES) throw new Refusal(413, "too-large", `A part may have at most ${CHUNK_BYTES} bytes.`);
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}
