import type { Selectable } from "kysely";
import { cutPage, type Page, type PageRequest, readCursor } from "../paging.ts";
import type { Database } from "../schema/database.ts";
import type { Reading } from "../transaction.ts";

type Analysis = Selectable<Database["analysis"]>;
export type RecordingRow = Selectable<Database["recording"]> & {
  [Column in "engineVersion" | "state" | "problemsJson" | "warningsJson" | "summaryJson"]: Analysis[Column] | null;
};
export type AnalysedRow = RecordingRow & { computedAt: string | null };
export type WindowsRow = AnalysedRow & { windowsJson: string };

export interface RecordingPageRequest extends PageRequest {
  readonly phase?: RecordingRow["phase"];
  readonly withExcluded: boolean;
}

export class RecordingReader {
  protected readonly db: Reading;
  constructor(db: Reading) {
    this.db = db;
  }

  one(runnerId: string, recordingId: string): Promise<RecordingRow | undefined> {
    return this.#withSummary()
      .where("recording.runnerId", "=", runnerId)
      .where("recording.id", "=", recordingId)
      .executeTakeFirst();
  }

  byContent(runnerId: string, contentSha256: string): Promise<RecordingRow | undefined> {
    return this.#withSummary()
      .where("recording.runnerId", "=", runnerId)
      .where("recording.contentSha256", "=", contentSha256)
      .executeTakeFirst();
  }

  /** Newest first. */
  async page(runnerId: string, page: RecordingPageRequest): Promise<Page<RecordingRow>> {
    const cursor = readCursor(page.after);
    let query = this.#withSummary().where("recording.runnerId", "=", runnerId);
    if (page.phase !== undefined) query = query.where("recording.phase", "=", page.phase);
    if (!page.withExcluded) query = query.where("recording.excluded", "=", 0);
    const { total } = await query
      .clearSelect()
      .select((build) => build.fn.countAll<number>().as("total"))
      .executeTakeFirstOrThrow();
    if (cursor !== null)
      query = query.where((build) =>
        build.or([
          build("recording.uploadedAt", "<", String(cursor[0])),
          build.and([build("recording.uploadedAt", "=", String(cursor[0])), build("recording.id", "<", cursor[1])]),
        ]),
      );
    const rows = await query
      .orderBy("recording.uploadedAt", "desc")
      .orderBy("recording.id", "desc")
      .limit(page.limit + 1)
      .execute();
    return cutPage(rows, page.limit, Number(total), (row) => [row.uploadedAt, row.id]);
  }

  /** Everything that counts for the statistics of a runner, oldest first. */
  async analysed(runnerId: string): Promise<WindowsRow[]> {
    const rows = await this.#analysed(runnerId).select("analysis.windowsJson").execute();
    return rows
      .flatMap((row) => (row.windowsJson === null ? [] : [{ ...row, windowsJson: row.windowsJson }]))
      .sort(byStart);
  }

  /** The same without what was measured in them: a hundredth of the bytes. */
  async analysedHeads(runnerId: string): Promise<AnalysedRow[]> {
    return (await this.#analysed(runnerId).execute()).sort(byStart);
  }

  detail(recordingId: string): Promise<Pick<Analysis, "windowsJson" | "traceGzip"> | undefined> {
    return this.db
      .selectFrom("analysis")
      .select(["windowsJson", "traceGzip"])
      .where("recordingId", "=", recordingId)
      .executeTakeFirst();
  }

  /** The file in pieces, in order; holds one piece at a time. */
  async *bytes(recordingId: string): AsyncGenerator<Uint8Array> {
    for (let chunkIndex = 0; ; chunkIndex += 1) {
      const row = await this.db
        .selectFrom("recordingChunk")
        .select("bytes")
        .where("recordingId", "=", recordingId)
        .where("chunkIndex", "=", chunkIndex)
        .executeTakeFirst();
      if (row === undefined) return;
      yield row.bytes;
    }
  }

  /** Recordings that another engine version read, or none yet. */
  staleIds(engineVersion: string, afterId: string, limit: number): Promise<{ id: string }[]> {
    return this.db
      .selectFrom("recording")
      .leftJoin("analysis", "analysis.recordingId", "recording.id")
      .select("recording.id")
      .where((build) =>
        build.or([build("analysis.engineVersion", "is", null), build("analysis.engineVersion", "!=", engineVersion)]),
      )
      .where("recording.id", ">", afterId)
      .orderBy("recording.id")
      .limit(limit)
      .execute();
  }

  #analysed(runnerId: string) {
    return this.#withSummary()
      .select("analysis.computedAt")
      .where("recording.runnerId", "=", runnerId)
      .where("recording.excluded", "=", 0)
      .where("analysis.state", "=", "analysed");
  }

  #withSummary() {
    return this.db
      .selectFrom("recording")
      .leftJoin("analysis", "analysis.recordingId", "recording.id")
      .selectAll("recording")
      .select([
        "analysis.engineVersion",
        "analysis.state",
        "analysis.problemsJson",
        "analysis.warningsJson",
        "analysis.summaryJson",
      ]);
  }
}

function byStart(a: AnalysedRow, b: AnalysedRow): number {
  const [from, to] = [a.startedAt ?? a.uploadedAt, b.startedAt ?? b.uploadedAt];
  return from < to ? -1 : from > to ? 1 : 0;
}
