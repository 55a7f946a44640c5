// One uploaded file becomes a recording: read first, then stored whole in one transaction, or refused with its problems.
import { promisify } from "node:util";
import { gzip } from "node:zlib";
import type { Readable } from "node:stream";
import {
  CHUNK_BYTES,
  RecordingReader,
  type RecordingRow,
  RecordingWriter,
  RunnerReader,
  type TrackedWrite,
} from "../../store/index.ts";
import type { AnalysedFile, FileLabels } from "../analysis/analyse-file.ts";
import { instant } from "../app/clock.ts";
import type { Deps } from "../app/deps.ts";
import { Refusal, unusable } from "../app/refusal.ts";
import { join } from "node:path";
import { type ReceivedFile, withReceivedFile } from "../uploads/receive-file.ts";
import { type Author, writeChange } from "./write-change.ts";

const zip = promisify(gzip);

export interface Upload {
  readonly runnerId: string;
  readonly recordingId: string;
  readonly fileName: string;
  readonly phase?: RecordingRow["phase"];
  readonly surface?: RecordingRow["surface"];
  readonly effortRating?: number;
  readonly sha256?: string;
  readonly by: "coach" | "runner";
  /** Marked by whoever sends it; as the file says when absent. */
  readonly cueBlocks?: FileLabels["cueBlocks"];
}

export interface StoredUpload {
  readonly outcome: "stored" | "duplicate" | "already-stored";
  readonly row: RecordingRow;
}

/** Streams, reads and stores. The answer comes after the commit: what is acknowledged is on the disk. */
export async function storeUpload(
  deps: Deps,
  author: Author,
  upload: Upload,
  stream: Readable,
  claimedBytes: number | undefined,
): Promise<StoredUpload> {
  const options = {
    folder: join(deps.settings.dataDir, "uploads"),
    maxBytes: deps.settings.maxUploadBytes,
    ...(claimedBytes === undefined ? {} : { claimedBytes }),
  };
  return withReceivedFile(stream, options, (file) => storeReceived(deps, author, upload, file));
}

async function storeReceived(deps: Deps, author: Author, upload: Upload, file: ReceivedFile): Promise<StoredUpload> {
  if (upload.sha256 !== undefined && upload.sha256 !== file.sha256)
    throw new Refusal(422, "damaged-on-the-way", "The file did not arrive as it was sent. Send it again.");
  const there = await existing(deps, upload, file.sha256);
  if (there !== null) return there;
  const bytes = await file.bytes();
  const labels: FileLabels = {
    fileName: upload.fileName,
    surface: upload.surface ?? "unknown",
    trimStartS: 0,
    trimEndS: null,
    cueBlocks: upload.cueBlocks ?? [],
  };
  const analysed = await deps.analyst.readFile(bytes, labels);
  if (!analysed.ok) {
    deps.metrics.count("uploads_refused");
    throw unusable(`${upload.fileName} cannot be used as a recording.`, analysed.problems);
  }
  const columns = await analysisColumns(deps, upload.recordingId, analysed.value);
  const phase = upload.phase ?? (await likelyPhase(deps, upload.runnerId, analysed.value.startedAt));
  const { value } = await writeChange(deps, author, "recording added", async (write): Promise<StoredUpload | null> => {
    // Another sender may have been quicker with the same bytes or the same id.
    if ((await sameContent(write, upload.runnerId, file.sha256)) || (await sameId(write, upload.recordingId)))
      return null;
    await write.put("recording", {
      id: upload.recordingId,
      runnerId: upload.runnerId,
      fileName: upload.fileName,
      byteCount: file.byteCount,
      contentSha256: file.sha256,
      phase,
      surface: analysed.value.surface,
      startedAt: analysed.value.startedAt,
      uploadedAt: instant(deps.clock),
      uploadedBy: upload.by,
      excluded: 0,
      excludedReason: "",
      trimStartS: 0,
      trimEndS: null,
      cueBlocksJson: analysed.value.cueBlocks.length === 0 ? null : JSON.stringify(analysed.value.cueBlocks),
      effortRating: upload.effortRating ?? null,
      note: "",
    });
    const writer = new RecordingWriter(write.trx);
    await writer.putBytes(upload.recordingId, pieces(bytes));
    await writer.putAnalysis(columns);
    const row = await writer.one(upload.runnerId, upload.recordingId);
    return row === undefined ? null : { outcome: "stored", row };
  });
  if (value === null) {
    const winner = await existing(deps, upload, file.sha256);
    if (winner !== null) return winner;
    throw new Refusal(409, "conflict", "The recording changed while it was being stored. Send it again.");
  }
  deps.metrics.count("uploads_stored");
  return value;
}

async function existing(deps: Deps, upload: Upload, sha256: string): Promise<StoredUpload | null> {
  const reader = new RecordingReader(deps.store.db);
  const same = await reader.one(upload.runnerId, upload.recordingId);
  if (same !== undefined) {
    if (same.contentSha256 === sha256) return { outcome: "already-stored", row: same };
    throw new Refusal(409, "id-taken", "Another recording has that id.");
  }
  const copy = await reader.byContent(upload.runnerId, sha256);
  if (copy === undefined) return null;
  deps.metrics.count("uploads_duplicate");
  return { outcome: "duplicate", row: copy };
}

async function sameContent(write: TrackedWrite, runnerId: string, sha256: string): Promise<boolean> {
  return (await new RecordingReader(write.trx).byContent(runnerId, sha256)) !== undefined;
}

async function sameId(write: TrackedWrite, id: string): Promise<boolean> {
  return (await write.trx.selectFrom("recording").select("id").where("id", "=", id).executeTakeFirst()) !== undefined;
}

/** What the store keeps of an analysis. */
export async function analysisColumns(deps: Deps, recordingId: string, analysed: AnalysedFile) {
  return {
    recordingId,
    engineVersion: deps.analyst.engineVersion,
    state: "analysed" as const,
    computedAt: instant(deps.clock),
    problemsJson: "[]",
    warningsJson: JSON.stringify(analysed.warnings),
    summaryJson: JSON.stringify(analysed.summary),
    windowsJson: JSON.stringify(analysed.windows),
    traceGzip: await zip(Buffer.from(JSON.stringify(analysed.trace), "utf8")),
  };
}

/** Where a run belongs when nobody said: by the dates of the plan. The coach can move it. */
async function likelyPhase(deps: Deps, runnerId: string, startedAt: string | null): Promise<RecordingRow["phase"]> {
  const plan = await new RunnerReader(deps.store.db).plan(runnerId);
  if (startedAt === null) return "unsorted";
  if (plan === undefined) return "before";
  const { stages } = JSON.parse(plan.planJson) as { stages: readonly { startsOn: string; endsOn: string }[] };
  const day = startedAt.slice(0, 10);
  const [first, last] = [stages[0], stages.at(-1)];
  if (first === undefined || last === undefined) return "unsorted";
  return day < first.startsOn ? "before" : day > last.endsOn ? "after" : "during";
}

function* pieces(bytes: Uint8Array): Generator<Uint8Array> {
  for (let start = 0; start < bytes.length; start += CHUNK_BYTES) yield bytes.subarray(start, start + CHUNK_BYTES);
}
