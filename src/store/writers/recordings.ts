import type { Insertable } from "kysely";
import { RecordingReader } from "../readers/recordings.ts";
import type { Database } from "../schema/database.ts";
import { assertTransaction, type Writing } from "../transaction.ts";

export const CHUNK_BYTES = 1024 * 1024;

/** Bytes and analyses. The recording row itself is written through a tracked change. */
export class RecordingWriter extends RecordingReader {
  readonly #trx: Writing;
  constructor(trx: Writing) {
    super(trx);
    assertTransaction(trx);
    this.#trx = trx;
  }

  /** Replaces the bytes of a recording; pieces must be CHUNK_BYTES or less. Answers how many bytes were written. */
  async putBytes(recordingId: string, chunks: Iterable<Uint8Array>): Promise<number> {
    await this.#trx.deleteFrom("recordingChunk").where("recordingId", "=", recordingId).execute();
    let chunkIndex = 0;
    let byteCount = 0;
    for (const bytes of chunks) {
      await this.#trx
        .insertInto("recordingChunk")
        .values({ recordingId, chunkIndex, bytes: Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength) })
        .execute();
      chunkIndex += 1;
      byteCount += bytes.byteLength;
    }
    return byteCount;
  }

  async putAnalysis(row: Insertable<Database["analysis"]>): Promise<void> {
    const { recordingId: _, ...rest } = row;
    await this.#trx
      .insertInto("analysis")
      .values(row)
      .onConflict((conflict) => conflict.column("recordingId").doUpdateSet(rest))
      .execute();
  }

  /** For good: row, bytes and analysis. */
  async erase(recordingId: string): Promise<void> {
    await this.#trx.deleteFrom("analysis").where("recordingId", "=", recordingId).execute();
    await this.#trx.deleteFrom("recordingChunk").where("recordingId", "=", recordingId).execute();
    await this.#trx
      .deleteFrom("changeRow")
      .where("tableName", "=", "recording")
      .where("rowId", "=", recordingId)
      .execute();
    await this.#trx.deleteFrom("recording").where("id", "=", recordingId).execute();
  }
}
