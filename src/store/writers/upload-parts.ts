import { UploadPartReader } from "../readers/upload-parts.ts";
import { assertTransaction, type Writing } from "../transaction.ts";

export interface NewPart {
  readonly runnerId: string;
  readonly recordingId: string;
  readonly startByte: number;
  readonly bytes: Uint8Array;
  readonly receivedAt: string;
}

export class UploadPartWriter extends UploadPartReader {
  readonly #trx: Writing;
  constructor(trx: Writing) {
    super(trx);
    assertTransaction(trx);
    this.#trx = trx;
  }

  async add({ bytes, ...part }: NewPart): Promise<void> {
    await this.#trx
      .insertInto("uploadPart")
      .values({
        ...part,
        byteCount: bytes.byteLength,
        bytes: Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength),
      })
      .execute();
  }

  async remove(runnerId: string, recordingId: string): Promise<void> {
    await this.#trx
      .deleteFrom("uploadPart")
      .where("runnerId", "=", runnerId)
      .where("recordingId", "=", recordingId)
      .execute();
  }

  async removeAll(runnerId: string): Promise<void> {
    await this.#trx.deleteFrom("uploadPart").where("runnerId", "=", runnerId).execute();
  }

  /** Recordings of which nothing came since `before` and so were given up. */
  async removeOlderThan(before: string): Promise<void> {
    const alive = this.#trx.selectFrom("uploadPart").select("recordingId").where("receivedAt", ">=", before);
    await this.#trx.deleteFrom("uploadPart").where("recordingId", "not in", alive).execute();
  }
}
