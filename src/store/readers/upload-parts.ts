// What has arrived of a recording that comes in parts.
import type { Reading } from "../transaction.ts";

export interface Arrived {
  /** Without a gap from the file's beginning. */
  readonly byteCount: number;
  readonly partCount: number;
}

export class UploadPartReader {
  protected readonly db: Reading;
  constructor(db: Reading) {
    this.db = db;
  }

  async arrived(runnerId: string, recordingId: string): Promise<Arrived> {
    return this.#sum(runnerId, recordingId);
  }

  /** Of all recordings of a runner that are still arriving. */
  async arrivedInAll(runnerId: string): Promise<Arrived> {
    return this.#sum(runnerId, undefined);
  }

  /** The parts in order; holds one at a time. */
  async *bytes(runnerId: string, recordingId: string): AsyncGenerator<Uint8Array> {
    for (let startByte = 0; ; ) {
      const row = await this.db
        .selectFrom("uploadPart")
        .select(["bytes", "byteCount"])
        .where("runnerId", "=", runnerId)
        .where("recordingId", "=", recordingId)
        .where("startByte", "=", startByte)
        .executeTakeFirst();
      if (row === undefined) return;
      yield row.bytes;
      startByte += row.byteCount;
    }
  }

  async #sum(runnerId: string, recordingId: string | undefined): Promise<Arrived> {
    let query = this.db.selectFrom("uploadPart").where("runnerId", "=", runnerId);
    if (recordingId !== undefined) query = query.where("recordingId", "=", recordingId);
    const row = await query
      .select((build) => [
        build.fn.sum<number | null>("byteCount").as("bytes"),
        build.fn.countAll<number>().as("parts"),
      ])
      .executeTakeFirstOrThrow();
    return { byteCount: Number(row.bytes ?? 0), partCount: Number(row.parts) };
  }
}
